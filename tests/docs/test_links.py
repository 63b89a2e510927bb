"""Every link and picture of the pages leads somewhere."""

from pathlib import Path

import pytest
from tests.docs.pages import ROOT, anchors, every_page, links


@pytest.mark.parametrize("path", every_page(), ids=lambda path: path.relative_to(ROOT).as_posix())
def test_links_within_the_project_lead_somewhere(path: Path) -> None:
    broken = []
    for target in links(path.read_text("utf-8")):
        if target.startswith(("http://", "https://", "mailto:")):
            continue
        place, _, anchor = target.partition("#")
        file = (path.parent / place).resolve() if place else path
        if not file.exists() or (
            anchor and file.suffix == ".md" and anchor not in anchors(file.read_text("utf-8"))
        ):
            broken.append(target)

    assert broken == []
