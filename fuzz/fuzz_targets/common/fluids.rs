//! Every handle there is, with the places at which its properties begin, end or turn.

use std::sync::{LazyLock, OnceLock};

use arbitrary::Arbitrary;
use interstage::{Reference, Refrigerant, State};

use super::shared::{Of, hottest_saturation, outside_gap, refrigerants};

/// A refrigerant of an input.
#[derive(Arbitrary, Debug, Clone, Copy)]
pub(crate) struct Fluid {
    which: u8,
    extrapolates: bool,
    reference: u8,
}

/// A handle and its landmarks.
#[derive(Debug)]
pub(crate) struct Known {
    pub(crate) refrigerant: Refrigerant,
    landmarks: Vec<State>,
}

/// Built where an input asks for them: a process that lives for one input is no rarity.
static ALL: LazyLock<Vec<(Refrigerant, OnceLock<Known>)>> = LazyLock::new(|| {
    let both = |refrigerant: Refrigerant| [refrigerant.clone(), refrigerant.with_extrapolation()];
    refrigerants().into_iter().flat_map(both).map(|handle| (handle, OnceLock::new())).collect()
});

impl Fluid {
    pub(crate) fn known(self) -> &'static Known {
        let place = 2 * usize::from(self.which) + usize::from(self.extrapolates);
        let (handle, known) = &ALL[place % ALL.len()];
        known.get_or_init(|| Known::new(handle.clone()))
    }

    /// The handle, one time in eight with another reference, where it can have that.
    pub(crate) fn refrigerant(self) -> Refrigerant {
        let known = self.known().refrigerant.clone();
        let reference = match self.reference {
            0..8 => Reference::LiquidAtMinus40C,
            8..16 => Reference::LiquidAtNormalBoilingPoint,
            16..32 => Reference::AsPublished,
            _ => return known,
        };
        known.clone().with_reference(reference).unwrap_or(known)
    }
}

impl Known {
    fn new(refrigerant: Refrigerant) -> Self {
        let r = &refrigerant;
        let (coldest, hottest) = (r.minimum_temperature(), r.maximum_temperature());
        let triple = r.minimum_saturation_temperature();
        let (critical, highest) = (r.critical_temperature(), r.maximum_pressure());
        let mut landmarks = Vec::new();
        for t in [triple, 0.7 * critical, 0.9 * critical, 0.97 * critical, hottest_saturation(r)] {
            if let Ok(saturation) = r.saturation_at_temperature(t.max(triple)) {
                landmarks.extend([saturation.liquid(), saturation.vapor()]);
            }
        }
        for p in [1e-9, 1e-2, 1e5, outside_gap(r, r.critical_pressure()), highest] {
            for t in [coldest, critical, hottest] {
                landmarks.extend(r.state_pt(p, t));
            }
        }
        landmarks.extend(r.state_t_rho(critical, r.critical_density()));
        Self { refrigerant, landmarks }
    }

    /// Where a property lies at the landmarks.
    pub(crate) fn places(&self, of: Of) -> Vec<f64> {
        let r = &self.refrigerant;
        let mut places: Vec<_> = self.landmarks.iter().map(|state| of.value(state)).collect();
        match of {
            Of::Temperature => places.extend([r.critical_temperature(), hottest_saturation(r)]),
            Of::Pressure => places.extend([r.critical_pressure(), r.minimum_saturation_pressure()]),
            Of::Density => places.extend([r.critical_density(), 1e-16]),
            _ => {}
        }
        places
    }

    /// From the lowest to the highest of them.
    pub(crate) fn span(&self, of: Of) -> (f64, f64) {
        let places = self.places(of);
        places.iter().fold((f64::MAX, f64::MIN), |(low, high), &x| (low.min(x), high.max(x)))
    }
}
