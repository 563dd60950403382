"""Every example in README.md and in the docstrings runs and shows what it says."""

import contextlib
import doctest
import importlib
import io
import pkgutil
import re
import shlex
from pathlib import Path

import pytest

import refdata
from refdata.doors.command import main

README = Path(refdata.__file__).parent.parent / "README.md"
FLAGS = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE


def blocks(kind: str) -> list[str]:
    return re.findall(rf"^```{kind}\n(.*?)^```", README.read_text(encoding="utf-8"), re.S | re.M)


def commands():
    for block in blocks("console"):
        for part in re.split(r"^\$ ", block, flags=re.M)[1:]:
            command, _, output = part.partition("\n")
            yield command, output


@pytest.mark.parametrize(("command", "output"), list(commands()), ids=[c for c, _ in commands()])
def test_readme_commands_print_what_the_readme_shows(command, output):
    program, *arguments = shlex.split(command)
    assert program == "refdata"
    told = io.StringIO()
    with contextlib.redirect_stdout(told), contextlib.redirect_stderr(told):
        main(arguments)
    shown = doctest.OutputChecker().check_output(output, told.getvalue(), FLAGS)
    assert shown, f"README shows:\n{output}\nit prints:\n{told.getvalue()}"


def test_readme_python_examples():
    text = "\n".join(blocks("python"))
    test = doctest.DocTestParser().get_doctest(text, {}, "README.md", "README.md", 0)
    assert len(test.examples) >= 10
    assert doctest.DocTestRunner(optionflags=FLAGS, verbose=False).run(test).failed == 0


def modules():
    for found in pkgutil.walk_packages(refdata.__path__, "refdata."):
        if not found.name.endswith("__main__"):
            yield found.name


@pytest.mark.parametrize("name", list(modules()))
def test_docstring_examples(name):
    module = importlib.import_module(name)
    globs = dict(vars(module))
    for test in doctest.DocTestFinder(exclude_empty=True).find(module, globs=globs):
        result = doctest.DocTestRunner(optionflags=FLAGS, verbose=False).run(test)
        assert result.failed == 0


def test_the_readme_names_every_question_and_table():
    text = README.read_text(encoding="utf-8")
    from refdata.core import store

    assert [name for name in refdata.QUESTIONS if f"`{name}" not in text] == []
    assert [name for name in store.tables() if f"`{name}`" not in text] == []
