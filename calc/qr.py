"""A link as a QR code (ISO/IEC 18004), drawn as SVG text."""

from io import BytesIO

import segno

from calc.model import InputError

LONGEST = 400  # characters; past that a phone no longer reads the code off a screen


def qr(link: str) -> str:
    """The code of `link` with its quiet zone of four modules, dark on light in every colour scheme.

    InputError when the link is longer than LONGEST.
    """
    if len(link) > LONGEST:
        raise InputError("link", f"The link has {len(link)} characters; a code that phones can read holds {LONGEST}.")
    out = BytesIO()
    code = segno.make(link, error="m", micro=False)
    code.save(
        out, kind="svg", border=4, dark="#111", light="#fff", xmldecl=False, omitsize=True,
        title="QR code of the link", svgclass="qr", lineclass=None,
    )  # fmt: skip
    return out.getvalue().decode("utf-8").strip()
