"""The catalogue: citations, safety and environment, the table of all refrigerants."""

import importlib
import re

import pandas as pd
import pytest

import interstage
from interstage import _catalogue

CITATIONS = [
    pytest.param(citation, id=f"{name} {of}")
    for name in interstage.names()
    for of, citation in (
        ("equation", interstage.Refrigerant(name).citation),
        *interstage.Refrigerant(name).transport_citations.items(),
    )
    if citation is not None
]
#: Papers and books that have none.
WITHOUT_DOI = {
    "VDI Fortschritt-Berichte, Reihe 19, Nr. 57",
    "8th Int. Refrig. Conf. at Purdue, paper 508",
    "IAPWS R12-08",
    "IAPWS R15-11",
    "IAPWS R1-76",
}


def entry(text):
    """Kind, key and fields of a BibTeX entry with one field a line."""
    head, *lines, end = text.splitlines()
    kind, key = re.fullmatch(r"@(\w+)\{([-\w:./+]+),", head).groups()
    assert end == "}"
    assert text.count("{") == text.count("}")
    return kind, key, dict(re.fullmatch(r"  (\w+) = \{(.*)\},?", line).groups() for line in lines)


@pytest.mark.parametrize("citation", CITATIONS)
def test_citation(citation):
    assert 1900 < citation.year < 2100
    assert (citation.doi is None) == (citation.journal in WITHOUT_DOI)
    fields = ("authors", "title", "journal", "year", "volume", "pages", "doi")
    assert {name: getattr(citation, name) for name in fields}.items() <= citation.to_dict().items()
    for name in fields:
        value = getattr(citation, name)
        assert value is None or str(value) in str(citation)
    assert "None" not in str(citation)
    assert str(citation) in repr(citation)


@pytest.mark.parametrize("citation", CITATIONS)
def test_bibtex(citation):
    kind, key, fields = entry(citation.bibtex())
    assert str(citation.year) in key
    assert fields["year"] == str(citation.year)
    assert fields["title"] == "{" + citation.title.replace("&", r"\&") + "}"
    assert fields.get("doi") == citation.doi
    assert fields.get("volume") == citation.volume
    assert fields.get("pages") == (citation.pages and citation.pages.replace("-", "--"))
    assert fields["journal" if kind == "article" else "howpublished"] == citation.journal
    assert (kind == "article") == (citation.volume is not None)
    if kind == "article":
        assert fields["author"].split(" and ") == citation.authors.split(", ")
    assert entry(citation.bibtex("my key, no. 1"))[1] == "mykeyno.1"


def test_keys_tell_papers_apart():
    papers = {str(case.values[0]): case.values[0].bibtex() for case in CITATIONS}
    assert len({entry(text)[1] for text in papers.values()}) == len(papers)


def test_an_institution_is_one_author():
    release = interstage.Refrigerant("R-718").transport_citations["viscosity"]
    assert release.bibtex() == (
        "@misc{IAPWS2008,\n"
        "  author = {{International Association for the Properties of Water and Steam}},\n"
        "  title = {{Release on the IAPWS Formulation 2008 for the Viscosity of Ordinary Water Substance}},\n"
        "  howpublished = {IAPWS R12-08},\n"
        "  year = {2008}\n"
        "}"
    )


def test_further_authors_are_others():
    report = interstage.Refrigerant("R-514A").citation
    assert report.authors == "M. O. McLinden et al."
    kind, key, fields = entry(report.bibtex())
    assert (kind, key) == ("misc", "McLinden2025")
    assert fields["author"] == "M. O. McLinden and others"


def test_a_key_is_a_text():
    with pytest.raises(interstage.WrongArgument, match="key must be a text, got int"):
        interstage.Refrigerant("R-134a").citation.bibtex(1)


def test_citations_compare_and_hash():
    first, second = (interstage.Refrigerant(name).citation for name in ("R-227ea", "R-13I1"))
    # One paper for two refrigerants.
    assert first == second
    assert hash(first) == hash(second)
    assert first != interstage.Refrigerant("R-134a").citation
    assert first != "R-227ea"


@pytest.mark.parametrize("name", interstage.names())
def test_environment(name):
    refrigerant = interstage.Refrigerant(name)
    environment = refrigerant.environment
    assert environment.safety_class == refrigerant.safety_class
    assert environment.safety_class is None or re.fullmatch(r"[AB](1|2L|2|3)", environment.safety_class)
    assert environment.odp is None or 0 <= environment.odp <= 1
    for gwp in (environment.gwp_ar4, environment.gwp_ar5, environment.gwp_ar6):
        assert gwp is None or re.fullmatch(r"<\d+", str(gwp)) or 0 <= gwp < 15000
    for source in (environment.safety_source, environment.odp_source, environment.gwp_source):
        assert source
    assert environment.note is None or environment.note
    data = environment.to_dict()
    assert data.pop("format_version") == 1
    assert data.pop("type") == "Environment"
    assert data == {field: getattr(environment, field) for field in data}
    assert len(data) == 9
    assert name in repr(environment)
    assert environment == interstage.Refrigerant(name).environment
    assert hash(environment) == hash(interstage.Refrigerant(name).environment)


def test_environment_tells_values_limits_and_the_unknown_apart():
    # The fifth report gives 1300 for R-134a and below 1 for R-1234yf; carbon dioxide is 1 by definition.
    assert interstage.Refrigerant("R-134a").environment.gwp_ar5 == 1300.0
    assert interstage.Refrigerant("R-1234yf").environment.gwp_ar5 == "<1"
    assert interstage.Refrigerant("R-744").environment.gwp_ar6 == 1.0
    assert interstage.Refrigerant("R-11").environment.odp == 1.0
    assert interstage.Refrigerant("R-13I1").environment.odp is None
    assert "gwp_ar5=<1," in repr(interstage.Refrigerant("R-1234yf").environment)
    environment = interstage.Refrigerant("R-134a").environment
    assert environment != interstage.Refrigerant("R-32").environment
    with pytest.raises(AttributeError):
        environment.odp = 1.0


def test_the_table_holds_what_the_handles_say():
    table = interstage.catalogue()
    assert isinstance(table, pd.DataFrame)
    assert list(table.index) == interstage.names()
    assert list(table.index[table["model"].eq("mixture")]) == interstage.blends()
    assert table.index.name == "designation"
    for name, row in table.iterrows():
        refrigerant = interstage.Refrigerant(name)
        for column, value in row.items():
            attribute = column.split(" [")[0]
            if not hasattr(refrigerant, attribute) or attribute in (
                "citation",
                "surface_tension",
                "composition",
            ):
                continue
            known = getattr(refrigerant, attribute)
            # Of R-514A by the mixture model the critical point is not a number.
            assert pd.isna(value) if known is None or pd.isna(known) else value == known
        assert row["citation"] == str(refrigerant.citation)
        assert row["doi"] == refrigerant.citation.doi or refrigerant.citation.doi is None
        for column in ("odp", "odp_source", "safety_source", "gwp_source"):
            known = getattr(refrigerant.environment, column)
            assert pd.isna(row[column]) if known is None else row[column] == known
        for of, citation in refrigerant.transport_citations.items():
            assert pd.isna(row[of]) if citation is None else row[of] == str(citation)


def test_the_table_can_be_calculated_with():
    table = interstage.catalogue()
    for column in table.columns:
        if column.startswith("gwp_ar") or column.endswith("]") or column == "odp":
            assert table[column].dtype == "float64"
    assert [name for name in table.index if table.loc[name, "gwp_upper_limits"]] == [
        "R-1234yf",
        "R-1234ze(E)",
    ]
    assert table.loc["R-1234yf", "gwp_upper_limits"] == "AR5"
    assert table.loc[table["model"].eq("pseudo-pure"), "composition"].to_dict() == {
        "R-404A": "R-125 0.44, R-143a 0.52, R-134a 0.04",
        "R-407C": "R-32 0.23, R-125 0.25, R-134a 0.52",
        "R-410A": "R-32 0.5, R-125 0.5",
        "R-507A": "R-125 0.5, R-143a 0.5",
    }
    assert table.loc["R-513A", "composition"] == "R-1234yf 0.56, R-134a 0.44"
    assert table.loc[table["model"].eq("pure"), "composition"].isna().all()
    assert table.loc["R-1234yf", "gwp_ar5"] == 1.0
    assert pd.isna(table.loc["R-744", "normal_boiling_point [K]"])


def test_without_pandas_the_table_is_a_dictionary_of_columns(monkeypatch):
    frame = interstage.catalogue()

    def absent(name):
        if name == "pandas":
            raise ImportError(name)
        return importlib.import_module(name)

    monkeypatch.setattr(_catalogue, "import_module", absent)
    table = interstage.catalogue()
    assert type(table) is dict
    assert list(table) == ["designation", *frame.columns]
    assert table["designation"] == interstage.names()
    assert all(len(column) == len(frame) for column in table.values())
    pd.testing.assert_frame_equal(pd.DataFrame(table).set_index("designation"), frame)


def test_names_can_be_changed_by_their_owner():
    mine = interstage.names()
    mine.clear()
    assert "R-134a" in interstage.names()
