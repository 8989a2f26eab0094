//! The shape of a fluid's published data. Molar SI units, as the papers print them.

use std::fmt;

/// Everything that is published about one fluid and used here.
#[derive(Debug)]
pub(crate) struct Fluid {
    /// ASHRAE 34 designation.
    pub(crate) designation: &'static str,
    /// Authors and year of the equation of state, by which it is chosen where there are several.
    pub(crate) equation: &'static str,
    /// Other names it is found under.
    pub(crate) aliases: &'static [&'static str],
    /// Chemical name.
    pub(crate) name: &'static str,
    /// Sum formula; a blend has none.
    pub(crate) formula: Option<&'static str>,
    /// CAS registry number; a blend has none.
    pub(crate) cas: Option<&'static str>,
    /// kg/mol.
    pub(crate) molar_mass: f64,
    /// J/(mol K), as the paper uses it.
    pub(crate) gas_constant: f64,
    pub(crate) reducing: Reducing,
    pub(crate) critical: CriticalPoint,
    pub(crate) coldest: Coldest,
    pub(crate) validity: Validity,
    pub(crate) ideal_gas: IdealGas,
    /// The two integration constants the paper prints, where they differ in meaning from the 0 degC convention.
    pub(crate) as_published: Option<(f64, f64)>,
    pub(crate) default_reference: DefaultReference,
    pub(crate) residual: Residual,
    pub(crate) saturation_guess: SaturationGuess,
    /// What makes a blend of fixed composition of it; saturation is then no equilibrium of its equation.
    pub(crate) blend: Option<Blend>,
    pub(crate) citation: Citation,
    /// The uncertainty the authors state, and where that was read.
    pub(crate) uncertainty: Option<(&'static str, &'static str)>,
    pub(crate) environment: Environment,
}

/// What concerns safety and environment, each datum with its source.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Environment {
    /// ASHRAE 34 safety class (letter toxicity, number flammability), if known.
    pub safety_class: Option<&'static str>,
    /// Where the class was read; "from memory" means: check the current edition.
    pub safety_source: &'static str,
    /// Ozone depletion potential, R-11 being 1, if known.
    pub odp: Option<f64>,
    /// Where the ozone depletion potential was read.
    pub odp_source: &'static str,
    /// Global warming potential over 100 years by the fourth, fifth and sixth IPCC report, where known.
    pub gwp: [Option<Gwp>; 3],
    /// Where the global warming potentials were read.
    pub gwp_source: &'static str,
    /// What else is to be said about these data.
    pub note: Option<&'static str>,
}

/// A global warming potential over 100 years, CO2 being 1.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Gwp {
    /// A value.
    Value(f64),
    /// Only an upper limit is reported.
    Below(f64),
}

/// Reducing point of the equation, K and mol/m3.
#[derive(Debug)]
pub(crate) struct Reducing {
    pub(crate) temperature: f64,
    pub(crate) molar_density: f64,
}

/// Critical point that the equation itself has, K, Pa, mol/m3.
#[derive(Debug)]
pub(crate) struct CriticalPoint {
    pub(crate) temperature: f64,
    pub(crate) pressure: f64,
    pub(crate) molar_density: f64,
}

/// Lower end of the saturation line, K and Pa: for a blend the coldest dew point of its published curves.
#[derive(Debug)]
pub(crate) struct Coldest {
    pub(crate) temperature: f64,
    pub(crate) pressure: f64,
    /// Whether that is the triple point, or where the equation or the curves begin.
    pub(crate) is_triple: bool,
}

impl Coldest {
    /// What it is.
    pub(crate) fn name(&self) -> &'static str {
        if self.is_triple { "triple point" } else { "beginning of the equation" }
    }
}

/// Range the authors claim, K and Pa.
#[derive(Debug)]
pub(crate) struct Validity {
    pub(crate) minimum_temperature: f64,
    pub(crate) maximum_temperature: f64,
    pub(crate) maximum_pressure: f64,
    pub(crate) source: &'static str,
}

/// `ln(delta) + constant + linear tau + logarithm ln(tau) + sum n tau^t + sum n ln(1 - exp(-theta tau))`.
#[derive(Debug)]
pub(crate) struct IdealGas {
    pub(crate) constant: f64,
    pub(crate) linear: f64,
    pub(crate) logarithm: f64,
    pub(crate) power: &'static [IdealPower],
    pub(crate) oscillators: &'static [Oscillator],
}

/// `n tau^t`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct IdealPower {
    pub(crate) n: f64,
    pub(crate) t: f64,
}

/// `n ln(1 - exp(-theta tau))` (Planck-Einstein function).
#[derive(Debug, Clone, Copy)]
pub(crate) struct Oscillator {
    pub(crate) n: f64,
    pub(crate) theta: f64,
}

/// Residual part of the reduced Helmholtz energy: the sum of its terms.
#[derive(Debug)]
pub(crate) struct Residual {
    pub(crate) power: &'static [Power],
    pub(crate) gaussian: &'static [Gaussian],
    pub(crate) gao: &'static [Gao],
    pub(crate) nonanalytic: &'static [Nonanalytic],
}

/// `n delta^d tau^t exp(-g delta^l - tau^m)`; without the first exponential where `l` is 0, without the second
/// where `m` is 0.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Power {
    pub(crate) n: f64,
    pub(crate) t: f64,
    pub(crate) d: u8,
    pub(crate) l: u8,
    pub(crate) g: f64,
    pub(crate) m: f64,
}

/// `n delta^d tau^t exp(-eta (delta - epsilon)^2 - beta (tau - gamma)^2)`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Gaussian {
    pub(crate) n: f64,
    pub(crate) t: f64,
    pub(crate) d: u8,
    pub(crate) eta: f64,
    pub(crate) beta: f64,
    pub(crate) gamma: f64,
    pub(crate) epsilon: f64,
}

/// `n delta^d tau^t exp(-eta (delta - epsilon)^2 + 1 / (beta (tau - gamma)^2 + b))`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Gao {
    pub(crate) n: f64,
    pub(crate) t: f64,
    pub(crate) d: u8,
    pub(crate) eta: f64,
    pub(crate) beta: f64,
    pub(crate) gamma: f64,
    pub(crate) epsilon: f64,
    pub(crate) b: f64,
}

/// `n Delta^b delta psi` with `Delta = theta^2 + B ((delta - 1)^2)^a`,
/// `theta = (1 - tau) + A ((delta - 1)^2)^(1 / (2 beta))` and `psi = exp(-C (delta - 1)^2 - D (tau - 1)^2)`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Nonanalytic {
    pub(crate) n: f64,
    pub(crate) a: f64,
    pub(crate) b: f64,
    pub(crate) beta: f64,
    pub(crate) big_a: f64,
    pub(crate) big_b: f64,
    pub(crate) big_c: f64,
    pub(crate) big_d: f64,
}

/// Starting values for the saturation line; never a result.
#[derive(Debug)]
pub(crate) struct SaturationGuess {
    /// `scale (1 + sum n theta^t)`.
    pub(crate) liquid_density: Expansion,
    /// `scale exp(sum n theta^t)`.
    pub(crate) vapor_density: Expansion,
}

/// Pairs (n, t) of an expansion in `theta = 1 - T / temperature`.
#[derive(Debug)]
pub(crate) struct Expansion {
    pub(crate) temperature: f64,
    pub(crate) scale: f64,
    pub(crate) terms: &'static [(f64, f64)],
}

impl Expansion {
    /// `sum n theta^t`, and 0 above the expansion's temperature.
    pub(crate) fn sum(&self, temperature: f64) -> f64 {
        let theta = (1.0 - temperature / self.temperature).max(0.0);
        self.terms.iter().map(|&(n, t)| n * theta.powf(t)).sum()
    }
}

/// A blend described as a pseudo-pure fluid.
#[derive(Debug)]
pub(crate) struct Blend {
    /// Designations of the components with their mass fractions.
    pub(crate) composition: &'static [(&'static str, f64)],
    /// Pressure of saturated liquid, Pa: `scale exp(temperature / T sum n theta^t)`.
    pub(crate) bubble: Expansion,
    /// Pressure of saturated vapor, Pa, of the same form.
    pub(crate) dew: Expansion,
}

/// Convention for enthalpy and entropy that the fluid has unless asked otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum DefaultReference {
    LiquidAt0C,
    AsPublished,
}

/// The paper an equation was published in.
///
/// [`Display`](fmt::Display) writes it on one line, [`bibtex`](Self::bibtex) as an entry of a bibliography.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct Citation {
    /// Authors, as printed.
    pub authors: &'static str,
    /// Title of the paper.
    pub title: &'static str,
    /// Journal, abbreviated.
    pub journal: &'static str,
    /// Year of publication.
    pub year: u16,
    /// Volume, if it has one.
    pub volume: Option<&'static str>,
    /// First and last page, or the article number, if known.
    pub pages: Option<&'static str>,
    /// Digital object identifier, if it has one.
    pub doi: Option<&'static str>,
}

/// What stands for further authors.
const OTHERS: &str = " et al.";

impl Citation {
    /// A key for bibliographies: family name of the first author (initials of an institution), year and, where known,
    /// first page.
    ///
    /// ```
    /// let refrigerant = interstage::Refrigerant::named("R-134a")?;
    /// assert_eq!(refrigerant.citation().key(), "Tillner-Roth1994-657");
    /// # Ok::<(), interstage::Error>(())
    /// ```
    pub fn key(&self) -> String {
        let first = self.authors.split(", ").next().unwrap_or_default().trim_end_matches(OTHERS);
        let family: String = if is_institution(first) {
            first.chars().filter(|letter| letter.is_uppercase()).collect()
        } else {
            first.split_whitespace().last().unwrap_or_default().to_owned()
        };
        let page = self.pages.and_then(|pages| pages.split('-').next()).map(|page| format!("-{page}"));
        format!("{family}{}{}", self.year, page.unwrap_or_default())
    }

    /// The BibTeX entry of the paper under a key, for instance that of [`key`](Self::key).
    ///
    /// What appeared in a numbered volume is an `@article`, anything else (reports, releases, books) a `@misc` with its
    /// place of publication as `howpublished`. Names and titles keep their capitals; characters with a meaning in TeX
    /// are escaped, but not in the DOI, which styles take as it is. Of the key, letters and digits of ASCII and
    /// `- _ : . / +` are kept; a key without any becomes that of [`key`](Self::key).
    ///
    /// ```
    /// let refrigerant = interstage::Refrigerant::named("R-600a")?;
    /// let entry = refrigerant.citation().bibtex("isobutane");
    /// assert!(entry.starts_with("@article{isobutane,\n  author = {D. Buecker and W. Wagner},\n"));
    /// assert!(entry.contains("  pages = {929--1019},\n  doi = {10.1063/1.1901687}\n}"));
    /// # Ok::<(), interstage::Error>(())
    /// ```
    pub fn bibtex(&self, key: &str) -> String {
        let kept = |letter: &char| letter.is_ascii_alphanumeric() || "-_:./+".contains(*letter);
        let mut key: String = key.chars().filter(kept).collect();
        if key.is_empty() {
            key = self.key();
        }
        let named = self.authors.trim_end_matches(OTHERS);
        let authors = named.split(", ").map(|author| {
            let name = escaped(author);
            if is_institution(author) { format!("{{{name}}}") } else { name }
        });
        let others = (named != self.authors).then(|| "others".to_owned());
        let mut fields = vec![
            ("author", authors.chain(others).collect::<Vec<_>>().join(" and ")),
            ("title", format!("{{{}}}", escaped(self.title))),
        ];
        let kind = if let Some(volume) = self.volume {
            fields.push(("journal", escaped(self.journal)));
            fields.push(("year", self.year.to_string()));
            fields.push(("volume", escaped(volume)));
            "article"
        } else {
            fields.push(("howpublished", escaped(self.journal)));
            fields.push(("year", self.year.to_string()));
            "misc"
        };
        fields.extend(self.pages.map(|pages| ("pages", escaped(pages).replace('-', "--"))));
        fields.extend(self.doi.map(|doi| ("doi", doi.to_owned())));
        let fields: Vec<String> =
            fields.iter().map(|(name, value)| format!("  {name} = {{{value}}}")).collect();
        format!("@{kind}{{{key},\n{}\n}}", fields.join(",\n"))
    }
}

/// Authors, title, journal, volume, year, pages and DOI, as far as there are any.
impl fmt::Display for Citation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { authors, title, journal, year, .. } = self;
        write!(f, "{authors}: {title}. {journal}")?;
        if let Some(volume) = self.volume {
            write!(f, " {volume}")?;
        }
        write!(f, " ({year})")?;
        if let Some(pages) = self.pages {
            write!(f, " {pages}")?;
        }
        match self.doi {
            Some(doi) => write!(f, ". doi:{doi}"),
            None => Ok(()),
        }
    }
}

/// Whether an author has words between the names, which persons do not have here.
fn is_institution(author: &str) -> bool {
    author.contains(" and ") || author.contains(" of ")
}

/// A text with the characters escaped that have a meaning in TeX.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' | '%' | '$' | '#' | '_' | '{' | '}' => safe.extend(['\\', letter]),
            '~' => safe.push_str("\\textasciitilde{}"),
            '^' => safe.push_str("\\textasciicircum{}"),
            '\\' => safe.push_str("\\textbackslash{}"),
            plain => safe.push(plain),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    const ARTICLE: Citation = Citation {
        authors: "A. B. First, C. Second",
        title: "Heat & Work: 5 % of {x}_1^2 ~ $y$ #3 \\ R-22",
        journal: "J. Things & Stuff",
        year: 2001,
        volume: Some("7"),
        pages: Some("12-34"),
        doi: Some("10.1000/a_b"),
    };

    #[test]
    fn an_article_is_complete_and_escaped() {
        assert_eq!(ARTICLE.key(), "First2001-12");
        let expected = r"@article{mine,
  author = {A. B. First and C. Second},
  title = {{Heat \& Work: 5 \% of \{x\}\_1\textasciicircum{}2 \textasciitilde{} \$y\$ \#3 \textbackslash{} R-22}},
  journal = {J. Things \& Stuff},
  year = {2001},
  volume = {7},
  pages = {12--34},
  doi = {10.1000/a_b}
}";
        assert_eq!(ARTICLE.bibtex("mine"), expected);
    }

    #[test]
    fn a_report_of_an_institution_has_neither_volume_nor_pages() {
        let authors = "International Association for the Properties of Water and Steam";
        let report = Citation {
            authors,
            title: "Release",
            journal: "IAPWS R0",
            volume: None,
            pages: None,
            doi: None,
            ..ARTICLE
        };
        assert_eq!(report.key(), "IAPWS2001");
        let expected = format!(
            "@misc{{k,\n  author = {{{{{authors}}}}},\n  title = {{{{Release}}}},\n  howpublished = {{IAPWS R0}},\n  year = {{2001}}\n}}"
        );
        assert_eq!(report.bibtex("k"), expected);
        assert_eq!(report.to_string(), format!("{authors}: Release. IAPWS R0 (2001)"));
    }

    #[test]
    fn further_authors_are_others() {
        let report = Citation { authors: "A. B. First et al.", ..ARTICLE };
        assert_eq!(report.key(), "First2001-12");
        assert!(report.bibtex("k").contains("\n  author = {A. B. First and others},\n"));
        assert!(report.to_string().starts_with("A. B. First et al.: "));
    }

    #[test]
    fn keys_hold_no_character_that_ends_them() {
        for (key, kept) in
            [("R-1233zd(E)", "R-1233zdE"), ("a,b} c\\", "abc"), ("", "First2001-12"), ("(,)", "First2001-12")]
        {
            assert!(ARTICLE.bibtex(key).starts_with(&format!("@article{{{kept},\n")), "{key}");
        }
    }

    #[test]
    fn one_line_names_what_there_is() {
        let whole = "A. B. First, C. Second: Release. J. Things & Stuff 7 (2001) 12-34. doi:10.1000/a_b";
        assert_eq!(Citation { title: "Release", ..ARTICLE }.to_string(), whole);
        let short = Citation { title: "Release", pages: None, doi: None, ..ARTICLE };
        assert_eq!(short.to_string(), "A. B. First, C. Second: Release. J. Things & Stuff 7 (2001)");
    }
}
