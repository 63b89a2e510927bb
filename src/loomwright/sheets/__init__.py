"""The job sheet: what a person carries under the truck, as a PDF.

`job_sheet(work, findings, parts, paper="letter")` gives its bytes. The typesetter loads with the
first sheet, not with this package.
"""

from loomwright.sheets.job import job_sheet
from loomwright.sheets.typeset import Paper

__all__ = ["Paper", "job_sheet"]
