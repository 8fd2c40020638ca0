"""Validates files against the generated JSON Schemas with another validator (jsonschema, PyPI).

Reads one JSON object from standard input: schemas by kind, and cases (kind, text). Writes a list:
for each case, whether it is valid. Exits with an error when a schema is itself not valid under
draft 2020-12.
"""

import json
import sys

from jsonschema import Draft202012Validator


def main() -> None:
    given = json.load(sys.stdin)
    validators = {}
    for kind, schema in given["schemas"].items():
        Draft202012Validator.check_schema(schema)
        validators[kind] = Draft202012Validator(schema)
    answers = []
    for case in given["cases"]:
        document = json.loads(case["text"])
        error = next(iter(validators[case["kind"]].iter_errors(document)), None)
        answers.append(None if error is None else f"{list(error.absolute_path)}: {error.message[:200]}")
    json.dump(answers, sys.stdout)


main()
