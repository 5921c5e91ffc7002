"""Sums JUnit files and says `N passed, N failed` in the last line.

sum_junit.py FILE...: the files that must be there. One that is missing, unreadable or without a test that ran counts as a
failure. Exit 1 where anything failed.
"""
import sys
import xml.etree.ElementTree as ET


def sums(path):
    """(passed, failures, skipped) of a file; failures as texts."""
    try:
        root = ET.parse(path).getroot()
    except FileNotFoundError:
        return 0, [f"{path}: is not there"], 0
    except (OSError, ET.ParseError) as problem:
        return 0, [f"{path}: cannot be read: {problem}"], 0
    passed, skipped, failures = 0, 0, []
    for case in root.iter("testcase"):
        name = f"{path}: {case.get('name')}"
        if case.find("failure") is not None or case.find("error") is not None:
            failures.append(name)
        elif case.find("skipped") is not None:
            skipped += 1
        else:
            passed += 1
    # A group that breaks outside its tests says so in its sums only.
    for suite in root.iter("testsuite"):
        told = int(suite.get("failures", 0)) + int(suite.get("errors", 0))
        if told > 0 and not failures:
            failures.append(f"{path}: {suite.get('name')} tells of {told} failures")
    if passed == 0 and not failures:
        failures.append(f"{path}: no test ran")
    return passed, failures, skipped


def main(paths):
    passed, skipped, failures = 0, 0, []
    for path in dict.fromkeys(paths):
        more_passed, more_failures, more_skipped = sums(path)
        passed += more_passed
        failures += more_failures
        skipped += more_skipped
    if not paths:
        failures.append("no file was named")
    for failure in failures:
        print(f"failed: {failure}")
    if skipped:
        print(f"skipped: {skipped}")
    print(f"{passed} passed, {len(failures)} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
