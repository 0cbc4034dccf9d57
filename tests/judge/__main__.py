"""`python3 -m tests.judge [lighthouse] [firefox] [--runs N]`: have the app judged by others; both, if none is named.

They are fetched once, at the versions named here, into .venv/judge. Ends with 0 if every bar is kept, with 1 if not,
and with 2 and one line where something is missing on this machine.
"""

import argparse

from server.launch import prepare, run

JUDGES = ("lighthouse", "firefox")


def judge(arguments: "list[str]") -> int:
    parser = argparse.ArgumentParser("python3 -m tests.judge", description="Have Swarfbook judged by others.")
    parser.add_argument("judges", nargs="*", metavar="JUDGE", help=f"some of: {', '.join(JUDGES)} (all, if none)")
    parser.add_argument("--runs", type=int, default=5, metavar="N", help="of Lighthouse on each page, 5 if not given")
    options = parser.parse_args(arguments)
    for name in options.judges:
        if name not in JUDGES:
            parser.error(f"no such judge: {name}")
    if options.runs < 1:
        parser.error("--runs has to be 1 or more")
    prepare("tests.judge", arguments, ["test"])

    from tests.judge import firefox, lighthouse

    wanted = [name for name in JUDGES if name in (options.judges or JUDGES)]
    missing = {"lighthouse": lighthouse.node, "firefox": firefox.find}
    for name in wanted:
        missing[name]()  # said before the first of them has taken its minutes
    judges = {"lighthouse": lambda: lighthouse.judge(options.runs), "firefox": firefox.judge}
    kept = [judges[name]() for name in wanted]
    return 0 if all(kept) else 1


if __name__ == "__main__":
    run(judge)
