"""What tests of pages do again and again: read one, and send its form or its table back."""


def text_of(response) -> str:
    return response.content.decode()


def rows_of(response, **change) -> dict[str, str]:
    """What a browser would send of a page's rows."""
    context = response.context
    page = context["page"]
    rows = page.rows if hasattr(page, "rows") else context["rows"]
    seen = next((getattr(page, each) for each in ("order", "head") if hasattr(page, each)), page)
    sent = {"seen": seen["seen"].value()}
    for form in (rows.management_form, *rows.forms):
        for field in form:
            value = field.value()
            sent[field.html_name] = "" if value is None or value is False else value
    return sent | change


def sent_of(response, name: str = "form") -> dict[str, str]:
    """What a browser would send of a form."""
    form = response.context[name]
    sent = {}
    for field in form:
        value = field.value()
        if value not in (None, False, ""):
            sent[field.html_name] = value
    return sent
