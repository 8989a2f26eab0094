//! Blends with a designation of their own and the mass fractions of their components.
//!
//! Compositions and safety classes are those of ASHRAE 34, from memory: check the current edition. Blends that have an
//! equation of their own as well stand with the fluids.

/// A blend with a designation.
#[derive(Debug)]
pub(crate) struct NamedBlend {
    /// ASHRAE 34 designation.
    pub(crate) designation: &'static str,
    /// Designations of the components with their mass fractions, in the order of the standard: lowest boiling point first.
    pub(crate) composition: &'static [(&'static str, f64)],
    /// ASHRAE 34 safety class.
    pub(crate) safety_class: &'static str,
}

const fn blend(
    designation: &'static str,
    composition: &'static [(&'static str, f64)],
    safety_class: &'static str,
) -> NamedBlend {
    NamedBlend { designation, composition, safety_class }
}

/// Every blend with a designation, but for those among the fluids.
pub(crate) static BLENDS: [NamedBlend; 13] = [
    blend(
        "R-448A",
        &[("R-32", 0.26), ("R-125", 0.26), ("R-1234yf", 0.20), ("R-134a", 0.21), ("R-1234ze(E)", 0.07)],
        "A1",
    ),
    blend("R-449A", &[("R-32", 0.243), ("R-125", 0.247), ("R-1234yf", 0.253), ("R-134a", 0.257)], "A1"),
    blend("R-450A", &[("R-134a", 0.42), ("R-1234ze(E)", 0.58)], "A1"),
    blend("R-452B", &[("R-32", 0.67), ("R-125", 0.07), ("R-1234yf", 0.26)], "A2L"),
    blend("R-454B", &[("R-32", 0.689), ("R-1234yf", 0.311)], "A2L"),
    blend("R-454C", &[("R-32", 0.215), ("R-1234yf", 0.785)], "A2L"),
    blend("R-466A", &[("R-32", 0.49), ("R-125", 0.115), ("R-13I1", 0.395)], "A1"),
    blend("R-500", &[("R-12", 0.738), ("R-152a", 0.262)], "A1"),
    blend("R-513A", &[("R-1234yf", 0.56), ("R-134a", 0.44)], "A1"),
    blend("R-514A", &[("R-1336mzz(Z)", 0.747), ("R-1130(E)", 0.253)], "B1"),
    blend("R-515A", &[("R-1234ze(E)", 0.88), ("R-227ea", 0.12)], "A1"),
    blend("R-515B", &[("R-1234ze(E)", 0.911), ("R-227ea", 0.089)], "A1"),
    blend("R-516A", &[("R-1234yf", 0.775), ("R-134a", 0.085), ("R-152a", 0.14)], "A2L"),
];
