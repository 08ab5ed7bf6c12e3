use super::*;
use sumpwright_core::confirm::PublicKey;

#[test]
fn differences_of_json_are_told_by_their_place() {
    let (a, b) = (br#"{"x":{"y":[1,2]},"z":1}"#, br#"{"x":{"y":[1,3]},"w":1}"#);
    let found = differences(a, b);
    assert_eq!(found, ["/x/y/1 is 2, anew 3", "/z is there, and should not be", "/w is missing"]);
    assert_eq!(differences(b"<1>\n2\n3", b"<1>\n2\n4"), ["from line 3 on"]);
}

#[test]
fn an_envelope_comes_back_as_it_was_made_and_no_signature_is_refused() {
    let made = envelope(b"{}", &[3; 64], "me").expect("it is one");
    let read = read_envelope(made.as_bytes()).expect("it is one");
    assert_eq!(
        (read.payload.as_slice(), read.signatures.as_slice()),
        (&b"{}"[..], &[vec![3; 64]][..])
    );
    assert!(envelope(b"{}", b"not a signature", "me").is_err());
    assert!(read_envelope(b"[]").is_err());
    let key = PublicKey::read(&"0".repeat(64)).ok();
    assert!(key.is_none_or(|key| !key.signed(&read)));
}

#[test]
fn what_is_no_statement_says_why() {
    for (text, why) in [
        ("{", "no JSON"),
        ("{}", "no statement"),
        (
            r#"{"_type":"https://in-toto.io/Statement/v1","predicateType":"urn:sumpwright:declaration:2"}"#,
            "this version reads",
        ),
        (
            r#"{"_type":"https://in-toto.io/Statement/v1","predicateType":"urn:sumpwright:declaration:1"}"#,
            "missing field",
        ),
    ] {
        let found = read_statement(text.as_bytes()).unwrap_err();
        assert!(found.contains(why), "{found}");
    }
}
