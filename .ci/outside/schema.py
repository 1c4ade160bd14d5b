"""The JSON Schema of layouts, against python-jsonschema: it is a schema; the demos, the
lessons and the aircraft files conform; layouts with a wrong key, word or kind do not."""

import glob
import json
import os
import subprocess

import jsonschema
import yaml


class Core(yaml.SafeLoader):
    """YAML by the core schema of YAML 1.2: yes and dates are texts."""


Core.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in rules if tag.rsplit(":", 1)[1] not in ("timestamp", "bool")]
    for first, rules in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def texts(value):
    """The value with texts for keys, as JSON has them."""
    if isinstance(value, dict):
        return {str(k): texts(v) for k, v in value.items()}
    return [texts(v) for v in value] if isinstance(value, list) else value


def schema(check, program, root):
    printed = subprocess.run([program, "help", "layout", "--schema"], check=True, capture_output=True).stdout
    whole = json.loads(printed)
    jsonschema.Draft202012Validator.check_schema(whole)
    layout = jsonschema.Draft202012Validator(whole)
    frame = jsonschema.Draft202012Validator({**whole, "$ref": "#/$defs/the-aircraft"})

    def read(name):
        with open(os.path.join(root, name), encoding="utf-8") as file:
            return texts(yaml.load(file, Core))

    names = [os.path.relpath(f, root) for where in ("testdata/lessons", "testdata/aircraft", "layouts/reading/demo") for f in sorted(glob.glob(os.path.join(root, where, "*.yaml")))]
    check("schema: there are layouts to hold against it", len(names) > 15, str(names))
    for name in names:
        value = read(name)
        errors = [f"{'/'.join(map(str, e.absolute_path))}: {e.message[:200]}" for e in (layout if "aircraft" in value else frame).iter_errors(value)]
        check(f"schema: {name} conforms", not errors, "; ".join(errors[:3]))
    for name in ("unknown-keys", "words", "missing"):
        check(f"schema: {name} is found", not layout.is_valid(read(f"testdata/bad/{name}.yaml")))
