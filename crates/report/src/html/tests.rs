//! Pages: what is in them, and what never is.

use super::*;
use crate::samples;

#[test]
fn a_page_holds_every_verdict_and_no_script() {
    let page = review(&samples::every_verdict());
    for verdict in Verdict::ALL {
        assert!(page.contains(verdict.words()), "{}", verdict.words());
    }
    assert!(!page.contains("<script") && !page.contains("http://") && !page.contains("https://"));
}

#[test]
fn the_policy_allows_the_one_style_sheet_that_is_there() {
    let page = review(&samples::conforming());
    let style = page.split_once("<style>").and_then(|(_, rest)| rest.split_once("</style>"));
    let (style, _) = style.expect("there is a style sheet");
    let digest = STANDARD.encode(Sha256::digest(style.as_bytes()));
    assert!(page.contains(&format!("style-src 'sha256-{digest}'")));
    assert!(!page.contains(" style="), "a style attribute would be refused");
}

#[test]
fn a_hostile_name_stays_text() {
    let mut hostile = samples::every_verdict();
    if let Some(pan) = hostile.pans.first_mut() {
        pan.title = Some("</title><script>alert(1)</script>\u{202e}".to_owned());
        pan.path = "\"><img src=x onerror=alert(1)>".to_owned();
    }
    let page = review(&hostile);
    assert!(!page.contains("<script") && !page.contains("<img"));
    assert!(page.contains("\\u{202e}"));
}

#[test]
fn broken_documents_are_told_with_their_place() {
    let page = review(&samples::broken());
    assert!(page.contains("Nothing was judged.") && page.contains("Problems of the documents"));
}

#[test]
fn a_review_as_a_page() {
    insta::assert_snapshot!(review(&samples::every_verdict()));
}

/// The part of the page that tells of the list, and the sentence that leads.
#[test]
fn a_list_is_told_clause_by_clause() {
    let page = review(&samples::against_a_list());
    assert!(
        page.contains(
            "Nothing was found against the pans, and a checklist is not shown to be met."
        )
    );
    let (_, rest) = page.split_once("<section id=\"checklist-0\">").expect("there is one");
    let (list, _) = rest.split_once("</section>").expect("it ends");
    assert!(!page.contains("<workshop>") && !page.contains("<covered>"));
    insta::assert_snapshot!(list.replace("><", ">\n<"));
}

#[test]
fn what_came_out_is_said_for_one_pan_and_for_several() {
    let mut several = samples::every_verdict();
    assert!(review(&several).contains("Something is against this pan that the rulebook"));
    several.pans.extend(samples::conforming().pans);
    assert!(review(&several).contains("1 of 2 pans has something against it that"));
    several.pans.extend(samples::every_verdict().pans);
    assert!(review(&several).contains("2 of 3 pans have something against them that"));
}

/// What does not conform is named before the drawings, and leads to where it is laid open.
#[test]
fn what_does_not_conform_is_named_first() {
    let page = review(&samples::every_verdict());
    let (_, list) = page.split_once("What does not conform:").expect("it is named");
    let (list, _) = list.split_once("</ul>").expect("in a list");
    let (_, link) = list.split_once("href=\"#").expect("with a link");
    let (name, _) = link.split_once('"').expect("to a name");
    assert_eq!(page.matches(&format!("id=\"{name}\"")).count(), 1, "{name}");
    assert!(!review(&samples::conforming()).contains("What does not conform:"));
}
