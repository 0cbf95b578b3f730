#!/usr/bin/env python3
"""The case that a report carries gives the report's figures again.

usage: report_round_trip.py OHMDRAG CASES

Reads the files out of report.html with an HTML parser, as the page says how, writes them into an
empty folder, runs the command that the page prints there, and compares the result documents byte
for byte. Sees to the size of the page as well, and that two runs write the same page.
"""

import base64
import hashlib
import html.parser
import os
import pathlib
import shlex
import subprocess
import sys
import tempfile

LARGEST_PAGE_BYTES = 2_000_000


class Page(html.parser.HTMLParser):
    """Text of every <code data-file=…>, and of the cell beside the head "command"."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.files = {}
        self.cells = []
        self._into = None
        self._open = ""

    def handle_starttag(self, tag, attrs):
        attrs = dict(attrs)
        if tag == "code" and "data-file" in attrs:
            self._into = []
            self._open = tag
            self._name = attrs["data-file"]
            self._encoding = attrs.get("data-encoding")
        elif tag in ("th", "td"):  # in tables of figures no end tag follows
            self._into = []
            self._open = tag

    def handle_data(self, data):
        if self._into is not None:
            self._into.append(data)

    def handle_endtag(self, tag):
        if self._into is None or tag != self._open:
            return
        text = "".join(self._into)
        self._into = None
        if tag == "code":
            self.files[self._name] = (
                base64.b64decode(text) if self._encoding == "base64" else text.encode()
            )
        else:
            self.cells.append(text)

    def command(self):
        return shlex.split(self.cells[self.cells.index("command") + 1])


def trade(program, arguments, folder):
    done = subprocess.run(
        [program, "trade", *arguments], cwd=folder, check=True, capture_output=True
    )
    return done.stdout


def check(program, cases, name, arguments=()):
    with tempfile.TemporaryDirectory() as out, tempfile.TemporaryDirectory() as empty:
        case = [f"{name}/case.toml", *arguments]
        trade(program, [*case, "--out", out, "--html", "--quiet"], cases)
        page_bytes = pathlib.Path(out, "report.html").read_bytes()
        result = pathlib.Path(out, "result.json").read_bytes()
        assert len(page_bytes) < LARGEST_PAGE_BYTES, f"{name}: {len(page_bytes)} bytes"
        page = Page()
        page.feed(page_bytes.decode("utf-8"))
        for file, content in page.files.items():
            target = pathlib.Path(empty, file)
            assert target.resolve().is_relative_to(pathlib.Path(empty).resolve()), file
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
            assert content == pathlib.Path(cases, file).read_bytes(), f"{name}: {file} differs"
            assert hashlib.sha256(content).hexdigest().encode() in page_bytes, file
        command = page.command()
        assert command[0] == "ohmdrag" and command[1] == "trade", command
        again = trade(program, command[2:], empty)
        assert again == result, f"{name}: another result document"
        again = pathlib.Path(out, "again")
        trade(program, [*case, "--out", str(again), "--html", "--quiet"], cases)
        assert (again / "report.html").read_bytes() == page_bytes, f"{name}: another page"
        print(f"{name}: {len(page.files)} files, {len(page_bytes)} bytes, the same result")


def main():
    program, cases = (os.path.abspath(argument) for argument in sys.argv[1:3])
    check(program, cases, "parcel-van", ["--set", 'shaft.rotor.run_out=0.02 mm', "--with-window"])
    check(program, cases, "plug-in-hybrid")  # includes a file
    check(program, cases, "measured-trips")  # a folder of logs
    check(program, cases, "gear-context")  # a table, no shaft voltage


if __name__ == "__main__":
    main()
