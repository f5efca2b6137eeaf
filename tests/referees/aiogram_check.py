"""Judges recorded traffic by the typed Bot API models of aiogram, which nobody here wrote.

Reads one JSON object a line from standard input and answers each with one line, a JSON list of
faults (empty: all is well):

    {"requests": [{"method": ..., "params": {...}, "files": [...], "result": ...}],
     "updates": [{...}]}

A request must validate as `aiogram.methods.*` with no parameter it does not know, at any depth; a
result as what that method returns; an update as `aiogram.types.Update` of a known kind.
"""

import json
import sys

from aiogram import methods, types
from pydantic import BaseModel, TypeAdapter, ValidationError


def unknown_fields(value, path):
    """Names in the input that no model has: the models let them pass."""
    if isinstance(value, BaseModel):
        for name in value.model_extra or {}:
            yield f"{path}.{name}: unknown field"
        for name in value.model_fields_set:
            yield from unknown_fields(getattr(value, name, None), f"{path}.{name}")
    elif isinstance(value, (list, tuple)):
        for number, item in enumerate(value):
            yield from unknown_fields(item, f"{path}[{number}]")


def faults_of(error, path):
    """The first few complaints of a failed validation, without the values."""
    for fault in error.errors(include_url=False, include_input=False)[:5]:
        where = ".".join(str(step) for step in fault["loc"])
        yield f"{path}: {where}: {fault['msg']}"


def judge_request(request):
    name = request["method"]
    model = getattr(methods, name[:1].upper() + name[1:], None)
    if model is None:
        yield f"{name}: no such method"
        return
    params = dict(request["params"])
    for field in request.get("files", []):
        params[field] = "attach://file"
    try:
        parsed = model.model_validate(params)
    except ValidationError as error:
        yield from faults_of(error, name)
        return
    yield from unknown_fields(parsed, name)
    if "result" in request:
        try:
            result = TypeAdapter(model.__returning__).validate_python(request["result"])
        except ValidationError as error:
            yield from faults_of(error, f"result of {name}")
            return
        yield from unknown_fields(result, f"result of {name}")


def judge_update(update):
    try:
        parsed = types.Update.model_validate(update)
    except ValidationError as error:
        yield from faults_of(error, f"update {update.get('update_id')}")
        return
    yield from unknown_fields(parsed, "update")
    if len(parsed.model_fields_set) != 2:
        yield f"update {parsed.update_id}: not exactly one kind"


def main():
    for line in sys.stdin:
        record = json.loads(line)
        faults = []
        for request in record.get("requests", []):
            faults.extend(judge_request(request))
        for update in record.get("updates", []):
            faults.extend(judge_update(update))
        print(json.dumps(faults), flush=True)


if __name__ == "__main__":
    main()
