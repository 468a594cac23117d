"""Writing a changed value into a job file, so that what stays keeps its comments and its place."""

from __future__ import annotations

import difflib
import json
from typing import Any

import tomlkit
from tomlkit.items import AoT, Array, InlineTable, Table


def set_at(document: Any, path: list[str], value: Any) -> None:
    """Set what stands at a place of a tomlkit document, sections made as needed; None takes it out."""
    target = document
    for part in path[:-1]:
        if part.isdigit():
            target = target[int(part)]
        else:
            if part not in target:
                target[part] = tomlkit.table()
            target = target[part]
    if value is None:
        target.pop(path[-1], None)
    else:
        put(target, path[-1], value)


def put(table: Any, key: str, value: Any) -> None:
    """Set a value of a TOML table. In a table or a list of tables only what differs is touched."""
    old = table.get(key)
    if isinstance(value, dict) and isinstance(old, Table | InlineTable):
        for gone in [k for k in old if k not in value]:
            del old[gone]
        for inner, wanted in value.items():
            if inner not in old or _plain(old[inner]) != wanted:
                put(old, inner, wanted)
    elif isinstance(old, AoT | Array) and value and all(isinstance(v, dict) for v in (*old, *value)):
        _put_entries(old, value)
    elif value == [] and old is not None:
        del table[key]
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        table[key] = tomlkit.aot()
        for entry in value:
            table[key].append(_table(entry))
    else:
        table[key] = value


def _plain(item: Any) -> Any:
    return item.unwrap() if hasattr(item, "unwrap") else item  # a bare true or false comes as it is


def _put_entries(entries: AoT | Array, wanted: list[dict[str, Any]]) -> None:
    before, after = ([_name(entry) for entry in each] for each in (entries.unwrap(), wanted))
    steps = difflib.SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
    for _, low, high, start, end in reversed(steps):
        both = min(high - low, end - start)
        for gone in reversed(range(low + both, high)):
            del entries[gone]
        for n in range(both):
            holder = {"entry": entries[low + n]}
            put(holder, "entry", wanted[start + n])
        for n, entry in enumerate(wanted[start + both : end]):
            entries.insert(low + both + n, _table(entry, isinstance(entries, Array)))


def _table(entry: dict[str, Any], inline: bool = False) -> Table | InlineTable:
    made = tomlkit.inline_table() if inline else tomlkit.table()
    for key, value in entry.items():
        put(made, key, value)
    return made


def _name(entry: dict[str, Any]) -> str:
    """What an entry is known by: its name, or all of it."""
    return str(entry.get("name") or json.dumps(entry, sort_keys=True, default=str))
