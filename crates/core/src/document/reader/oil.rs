//! Reads an oil.

use super::cursor::{Context, Cursor, Spot, entries};
use super::instrument::instruments;
use super::message::nothing_said;
use super::quantity::{amount, quantity};
use super::value::text;
use crate::document::oil::{Oil, Table};
use crate::quantity::{Kind, Stated, si};
use crate::source::{Code, Diagnostic, Entry, Scalar, Span, Value};
use uom::si::f64::ThermodynamicTemperature;

pub(super) fn oil(c: &mut Cursor<'_, '_>, like: Option<&Oil>) -> Oil {
    instruments(c);
    Oil {
        span: c.span,
        notebook: c.notebook(),
        title: c.given("title", text),
        density: c.part_like("density", like.map(|l| &l.density), table),
        expansion: c.part_like("expansion", like.map(|l| &l.expansion), quantity),
        viscosity: c.part_like("viscosity", like.map(|l| &l.viscosity), falling),
        heat_capacity: c.part_like("heat_capacity", like.map(|l| &l.heat_capacity), quantity),
        conductivity: c.part_like("conductivity", like.map(|l| &l.conductivity), quantity),
        air_share: c.part_like("air_share", like.map(|l| &l.air_share), quantity),
        bulk_modulus: c.part_like("bulk_modulus", like.map(|l| &l.bulk_modulus), quantity),
    }
}

/// A table over temperature, by rising temperature.
fn table<Q: Kind>(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Table<Q>> {
    let mut rows = Vec::new();
    for entry in entries(context, spot)? {
        rows.extend(row(context, spot, entry));
    }
    rows.sort_by(|(a, _), (b, _)| a.value.to_si().total_cmp(&b.value.to_si()));
    if context.checks() {
        for pair in rows.windows(2) {
            if let [(first, _), (second, _)] = pair {
                same_temperature(context, spot, first, second);
            }
        }
    }
    (!rows.is_empty()).then_some(Table { span: spot.node.span, rows })
}

/// A table of what falls as the oil warms. A density measured with a jug at two temperatures may seem to rise; a
/// viscosity halves in some twenty degrees, so that one which rises is a slip of the pen.
fn falling<Q: Kind>(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Table<Q>> {
    let table = table::<Q>(context, spot)?;
    if context.checks() {
        for pair in table.rows.windows(2) {
            if let [(cold, colder), (warm, warmer)] = pair
                && warm.value.to_si() > cold.value.to_si()
                && warmer.value.to_si() > colder.value.to_si()
            {
                let message =
                    format!("`{}` rises as the oil warms, and that of no oil does", spot.name);
                context.report(
                    Diagnostic::error(Code::Contradiction, warmer.span, message)
                        .also(colder.span, "less at a lower temperature")
                        .help("check both values and their temperatures against the data sheet"),
                );
            }
        }
    }
    Some(table)
}

type Row<Q> = (Stated<ThermodynamicTemperature>, Stated<Q>);

fn row<Q: Kind>(context: &mut Context<'_>, table: &Spot<'_>, entry: &Entry) -> Option<Row<Q>> {
    let key = &entry.key;
    let path = format!("{}.{}", table.path, key.text.replace('.', "\u{b7}"));
    let temperature = amount(
        context,
        &as_scalar(&key.text, key.span),
        key.span,
        &format!("{path}.temperature"),
        "temperature",
        ThermodynamicTemperature::DIMENSION,
    );
    if matches!(entry.value.value, Value::Null) {
        context.report(nothing_said(&key.text, key.span));
        return None;
    }
    let name = table.name.clone();
    let value = quantity(context, &Spot { node: &entry.value, path, name, key: key.span });
    Some((Stated { value: si(temperature?), span: key.span }, value?))
}

/// A key as the scalar it is written as.
fn as_scalar(text: &str, span: Span) -> Scalar {
    let verbatim = (span.end - span.start) as usize == text.len();
    Scalar {
        text: text.to_owned(),
        span,
        verbatim_at: verbatim.then_some(span.start),
        plain: verbatim,
    }
}

fn same_temperature(
    context: &mut Context<'_>,
    spot: &Spot<'_>,
    first: &Stated<ThermodynamicTemperature>,
    second: &Stated<ThermodynamicTemperature>,
) {
    if second.value.to_si() > first.value.to_si() {
        return;
    }
    let (first, second) = if first.span < second.span { (first, second) } else { (second, first) };
    let message = format!("`{}` states one temperature twice", spot.name);
    let problem = Diagnostic::error(Code::Contradiction, second.span, message);
    context.report(problem.also(first.span, "stated already"));
}
