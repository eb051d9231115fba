"""Whatever fits the OpenAPI description, and what does not, is answered as the description says."""

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import response_schema_conformance, status_code_conformance

pytestmark = pytest.mark.whole
CHECKS = (not_a_server_error, status_code_conformance, response_schema_conformance)
SLOW = ("/jobs", "/shape", "/survey", "/proof")  # a process works on these: fewer examples


@pytest.mark.filterwarnings("ignore::DeprecationWarning")
@pytest.mark.parametrize("quick", [True, False])
def test_the_api_answers_as_it_says(client, quick):
    description = client.get("/api/v1/openapi.json").json()
    paths = description["paths"]
    description["paths"] = {
        path: one for path, one in paths.items() if quick != path.endswith(SLOW)
    }
    api = schemathesis.openapi.from_dict(description)
    for result in api.get_all_operations():
        operation = result.ok()

        @settings(
            max_examples=30 if quick else 4,
            deadline=None,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
        )
        @given(operation.as_strategy())
        def ask(case):
            case.call_and_validate(
                base_url=str(client.base_url), checks=CHECKS, headers={"X-Strutwright": "1"}
            )

        ask()
