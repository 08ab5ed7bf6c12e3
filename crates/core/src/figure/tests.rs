use super::*;
use crate::model::DrawnPart;

#[test]
fn a_shape_knows_whether_it_closes() {
    let line = vec![DVec2::ZERO, DVec2::X];
    assert!(Shape::closed(Part::Surface, "", line.clone()).closed);
    assert!(!Shape::open(Part::Solid(DrawnPart::Case), "", line).closed);
}
