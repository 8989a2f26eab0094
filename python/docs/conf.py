"""Configuration of Sphinx. `python python/docs/build.py` prepares the sources and calls it."""

import re
from pathlib import Path

from docutils import nodes
from sphinx.util.docutils import SphinxDirective

import interstage

project = "interstage"
author = "interstage contributors"
copyright = author
release = version = interstage.__version__

extensions = [
    "myst_nb",
    "sphinx.ext.autodoc",
    "sphinx.ext.napoleon",
    "matplotlib.sphinxext.plot_directive",
]
exclude_patterns = ["generated", "**/.ipynb_checkpoints"]
myst_enable_extensions = ["colon_fence", "deflist", "fieldlist"]
myst_heading_anchors = 3
nb_execution_mode = "off"
nb_merge_streams = True

# A word in single backticks is the name of something in the package, or else code.
default_role = "py:obj"
smartquotes = False
nitpicky = True
# What a docstring calls the kind of a parameter is prose; names that are no public ones are code.
nitpick_ignore_regex = [
    ("py:class", r".*"),
    ("py:data", r".*"),
    ("py:exc", r".*"),
    ("py:obj", r"(interstage\.)?[^A-Z].*"),
]

autodoc_typehints = "none"
autodoc_member_order = "alphabetical"
autodoc_default_options = {"members": True, "inherited-members": "object,ValueError,TypeError,KeyError"}
autodoc_preserve_defaults = True
add_module_names = False
toc_object_entries_show_parents = "hide"
napoleon_google_docstring = False
napoleon_use_rtype = True
# Parameters that share a line stay together; `linked` then links the classes among their types.
napoleon_use_param = False
napoleon_use_ivar = False

plot_include_source = True
plot_html_show_formats = False
plot_html_show_source_link = False
plot_formats = [("png", 110)]
plot_rcparams = {"savefig.facecolor": "white"}

html_theme = "furo"
html_title = f"interstage {release}"
html_static_path = ["_static"]
html_css_files = ["interstage.css"]
html_copy_source = False
html_show_sourcelink = False
html_theme_options = {
    "light_css_variables": {"color-brand-primary": "#1f5a73", "color-brand-content": "#1f5a73"},
    "dark_css_variables": {"color-brand-primary": "#8fc3d9", "color-brand-content": "#8fc3d9"},
}

CLASSES = "|".join(sorted((name for name in interstage.__all__ if name[0].isupper()), key=len, reverse=True))


def linked(app, what, name, obj, options, lines):
    """Link the public classes in the type of a parameter, which napoleon writes as ``**name** (*type*)``."""

    def types(found):
        parts = re.split(rf"\b({CLASSES})\b", found[2])
        parts = [f":py:obj:`{part}`" if i % 2 else italic(part) for i, part in enumerate(parts) if part]
        # A space that is escaped parts the markup and is not shown.
        shown = "\\ ".join(parts)
        return f"{found[1]} ({shown})"

    def italic(text):
        return re.sub(r"[^\s,](.*[^\s,])?", r"*\g<0>*", text) if re.search(r"\w", text) else text

    for i, line in enumerate(lines):
        lines[i] = re.sub(r"(\*\*[^*]+\*\*) \(\*([^*]+)\*\)", types, line)


def escaped(app, what, name, obj, options, lines):
    """Keep a unit that begins a line, as in "W. Without it", from being taken for a letter of a list."""
    lines[:] = [re.sub(r"^(\s*)([A-Z]\. )", r"\1\\\2", line) for line in lines]


class Interactive(SphinxDirective):
    """Code, and below it the interactive figure that it leaves in ``figure``; all of it is stored beside."""

    has_content = True

    def run(self):
        # The figures are no part of what Sphinx remembers of a page.
        self.env.note_reread()
        code = "\n".join(self.content)
        scope = {}
        exec(code, scope)
        figure, page = scope["figure"], self.env.docname
        folder = Path(self.env.app.outdir) / "figures"
        folder.mkdir(parents=True, exist_ok=True)
        name = f"{page.replace('/', '-')}-{self.lineno}.html"
        figure.write_html(folder / name, include_plotlyjs="directory", auto_play=False)
        address = f"{'../' * page.count('/')}figures/{name}"
        size = f'width="{figure.layout.width + 20}" height="{figure.layout.height + 20}"'
        frame = f'<iframe class="figure" scrolling="no" src="{address}" title="figure" {size}></iframe>'
        frame = f'<div class="output">{frame}</div>'
        return [nodes.literal_block(code, code, language="python"), nodes.raw("", frame, format="html")]


def setup(app):
    app.add_directive("interactive", Interactive)
    # Before and after napoleon, whose priority is 500.
    app.connect("autodoc-process-docstring", escaped, priority=400)
    app.connect("autodoc-process-docstring", linked, priority=600)
