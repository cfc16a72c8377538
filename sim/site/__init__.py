"""What is installed in one place: strict models, read from YAML with complaints a person can act on."""

from sim.site.document import Document
from sim.site.files import dump_site, load_site, restore_site, site_digest, site_schema, with_changes
from sim.site.models import GUARD_NAMES, Site
from sim.site.reader import read_text, read_yaml
from sim.site.validation import validate

__all__ = [
    "GUARD_NAMES",
    "Document",
    "Site",
    "dump_site",
    "load_site",
    "read_text",
    "read_yaml",
    "restore_site",
    "site_digest",
    "site_schema",
    "validate",
    "with_changes",
]
