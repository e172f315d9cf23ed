"""What all pages and pictures share: their templates, their look, their first words."""

import jinja2

_TEMPLATES = jinja2.Environment(
    loader=jinja2.PackageLoader("exports", ""),
    autoescape=True,
    undefined=jinja2.StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)


def lay_out(template: str, **values: object) -> str:
    """Fill a template, named by its path under ``exports``.

    Every value is escaped: names come from files of other people and must stay words.
    """
    return _TEMPLATES.get_template(template).render(values)
