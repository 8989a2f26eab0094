//! Tops of the lines, how steep they are, and their point of a density.

use super::envelope::Envelope;
use super::incipient::{Held, Point, solve_point, tangent};
use super::ladder::interpolate;
use super::{Blend, not_converged};
use crate::error::Result;

impl Point {
    /// Molar density of the blend, mol/m3.
    pub(crate) fn molar_density(&self) -> f64 {
        self.ln_density.exp()
    }

    /// Pressure with temperature along the line, Pa/K; infinite where the line turns back, NaN at the critical point.
    pub(crate) fn slope(&self, blend: &Blend<'_>) -> f64 {
        tangent(blend, self).map_or(f64::NAN, |along| self.pressure * along.ln_pressure / along.temperature)
    }
}

impl Envelope {
    /// The saturated point of a molar density (mol/m3) between those of the cold ends: below its temperature there are two phases at that
    /// density, above it one.
    pub(crate) fn at_molar_density(&self, blend: &Blend<'_>, density: f64) -> Result<Point> {
        let points = self.points();
        let ln_density = density.ln();
        let cell = points
            .windows(2)
            .position(|pair| pair[0].ln_density >= ln_density && pair[1].ln_density <= ln_density)
            .ok_or_else(|| not_converged("cell of a saturated point", points.len(), ln_density))?;
        // Across a gap: two phases up to where the lower of its two sides ends.
        let sides = [points[cell], points[cell + 1]];
        if self.critical().is_none() && sides[0].is_bubble(blend) && !sides[1].is_bubble(blend) {
            let [dense, thin] = sides;
            return Ok(if dense.temperature < thin.temperature { dense } else { thin });
        }
        let around = cell.saturating_sub(2)..(cell + 4).min(points.len());
        let start = interpolate(&points[around], ln_density);
        solve_point(blend, &start, Held::LnDensity(ln_density))
    }

    /// Molar density of the critical point, mol/m3; across a gap the mean of its two sides.
    pub(crate) fn top_density(&self) -> f64 {
        match self.critical() {
            Some(point) => point.molar_density(),
            None => {
                let [dense, thin] = [self.side(true).end - 1, self.side(false).start];
                (0.5 * (self.points()[dense].ln_density + self.points()[thin].ln_density)).exp()
            }
        }
    }
}
