"""The record of the troubled job, whole."""

from __future__ import annotations

import pytest

from diagtree.report.job_record import JobRecord, job_record
from tests.report.troubled_job import CASE, PRINTED, story


@pytest.fixture
def whole() -> JobRecord:
    walk, events = story()
    return job_record(walk, events, CASE, PRINTED)
