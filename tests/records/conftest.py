"""The twelve invented records, read once."""

import pytest
from invented_records import FOLDER

from calcbook.records.file import read_records, records_in


@pytest.fixture(scope="session")
def twelve():
    """Records of the folder that the notebook shows."""
    records, problems = read_records(records_in(FOLDER))
    assert problems == [] and len(records) == 12
    return records
