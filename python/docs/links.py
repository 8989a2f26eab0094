"""Follows the links of built pages; addresses elsewhere are only looked at, never asked for."""

import re
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

#: What an address elsewhere may look like.
ELSEWHERE = re.compile(r"https://(doi\.org/10\.\d{4,9}/\S+|(?!doi\.org)[a-z0-9.-]+\.[a-z]{2,}(/\S*)?)$")


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.loaded: list[str] = []
        self.anchors: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name == "id" or (tag == "a" and name == "name"):
                self.anchors.add(value or "")
            elif name == "href" and value:
                (self.links if tag == "a" else self.loaded).append(value)
            elif name == "src" and value:
                self.loaded.append(value)


def broken(html: Path) -> list[str]:
    """Links of the pages that lead nowhere, and what a page would load from elsewhere."""
    pages = {}
    for path in sorted(html.rglob("*.html")):
        pages[path] = _Page()
        pages[path].feed(path.read_text())
    found = []
    for path, page in pages.items():
        where = path.relative_to(html)
        for link in [*page.links, *page.loaded]:
            parts = urlsplit(link)
            if parts.scheme == "data" or parts.scheme == "mailto":
                continue
            if parts.scheme or parts.netloc:
                if link in page.loaded:
                    found.append(f"{where}: loads {link}")
                elif not ELSEWHERE.match(link):
                    found.append(f"{where}: no address: {link}")
                continue
            target = (path.parent / unquote(parts.path)).resolve() if parts.path else path
            if not target.exists():
                found.append(f"{where}: no such file: {link}")
            elif parts.fragment and target in pages and unquote(parts.fragment) not in pages[target].anchors:
                found.append(f"{where}: no such place: {link}")
    return found
