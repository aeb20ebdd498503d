#!/usr/bin/python3
"""Checks `tallyround roster` against Python's own csv module and codecs, which share no code with
it: classes written by them in every separator, quoting, line end and encoding must read back equal.
Also the exit codes and what is printed where.

usage: roster_check.py PROGRAM [--rounds N]
"""
import argparse
import csv
import io
import json
import pathlib
import random
import subprocess
import sys
import tempfile

LATIN = ["Ana", "Bo", "Zoë", "José", "Björn", "O'Neil", "De Souza", "Núñez", "Ýrsa", "Ann-Marie",
         "Smith", 'Jo "Jo"', "St. John", "Šimon", "Žižka", "Æsa", "D’Arcy", "Œuvrard"]
OTHER = LATIN + ["Łucja", "Νίκη", "Анна", "עדי", "فاطمة", "रिया", "Nguyễn", "\U0001E900\U0001E901",
                 "สมชาย", "Żółć"]
CODECS = ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
HEADERS = {"given": ["First name", "GIVEN NAME", "forename"],
           "family": ["Last name", "family_name", "Surname"],
           "id": ["ID", "Student ID", "student number"],
           "other": ["Email", "Grade", "Notes"]}


def run(program, *args, stdin=b""):
    done = subprocess.run([program, "roster", *args], input=stdin, capture_output=True, timeout=60)
    return done.returncode, done.stdout, done.stderr.decode("utf-8")


def check_round(program, seed):
    rng = random.Random(seed)
    codec = rng.choice(CODECS)
    names = LATIN if codec == "cp1252" else OTHER
    people = [{"given": rng.choice(names), "family": rng.choice(names), "id": f"k{i}-{seed}",
               "other": rng.choice(["", "a, b; c", 'say "x"', "two\nlines"])}
              for i in range(rng.randint(1, 60))]
    order = list(HEADERS)
    rng.shuffle(order)
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=rng.choice(",;\t"),
                        quoting=rng.choice([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]),
                        lineterminator=rng.choice(["\r\n", "\n"]))
    writer.writerow([rng.choice(HEADERS[key]) for key in order])
    for person in people:
        writer.writerow([person[key] for key in order])
    code, stdout, stderr = run(program, "-", stdin=out.getvalue().encode(codec))
    assert code == 0, f"seed {seed} ({codec}): exit {code}: {stderr}"
    answer = json.loads(stdout)
    assert answer["format"] == "csv" and stderr == "", f"seed {seed}"
    found = [(s["id"], s["name"], s["given"], s["family"], s["source_id"], s["row"])
             for s in answer["students"]]
    wanted = [(f"s{i + 1:02d}", f"{p['given']} {p['family']}", p["given"], p["family"], p["id"],
               i + 2) for i, p in enumerate(people)]
    assert found == wanted, f"seed {seed} ({codec})\nfound  {found}\nwanted {wanted}"
    doubles = len(people) - len({(p["given"] + " " + p["family"]).lower() for p in people})
    assert len(answer["warnings"]) == doubles, f"seed {seed}: {answer['warnings']}"


def check_exits(program):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        (folder / "a.txt").write_text("Ana\nBo\n", encoding="utf-8")
        (folder / "b.txt").write_text("Bo\nCy\n", encoding="utf-8")
        (folder / "bad.csv").write_text('Name,ID\nAna,1\nBo,"2\n', encoding="utf-8")
        (folder / "empty.csv").write_text("", encoding="utf-8")
        a, b, bad, empty = (str(folder / n) for n in ("a.txt", "b.txt", "bad.csv", "empty.csv"))

        code, stdout, stderr = run(program, a, b)
        assert code == 0 and stderr == ""
        both = json.loads(stdout)
        assert [s["id"] for s in both["students"]] == ["s01", "s02", "s03", "s04"]
        assert [s["file"] for s in both["students"]] == [a, a, b, b]
        assert [(w["file"], w["row"]) for w in both["warnings"]] == [(b, 1)]
        assert run(program, a, "-", stdin=b"Di\n")[0] == 0
        assert "file" not in json.loads(run(program, a)[1])["students"][0]

        for args in ([], ["--help-me", a], ["-x"], ["-", "-"]):
            code, stdout, stderr = run(program, *args)
            assert code == 2 and stdout == b"" and stderr.startswith("usage:"), args
        for args, words in (([bad], "row 3, column 2"), ([a, bad], "row 3, column 2"),
                            ([empty], "holds no names"), ([str(folder / "none")], "opened"),
                            ([name], "opened"), (["-"], "standard input")):
            code, stdout, stderr = run(program, *args)
            assert code == 4 and stdout == b"", args
            assert words in stderr and stderr.count("\n") == 1, (args, stderr)
        # A file name that is no UTF-8 must not break the JSON.
        odd = folder.joinpath("odd\udce9.txt")
        odd.write_text("Ana\n", encoding="utf-8")
        code, stdout, _ = run(program, str(odd), a)
        assert code == 0 and len(json.loads(stdout)["students"]) == 3


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program")
    parser.add_argument("--rounds", type=int, default=300)
    options = parser.parse_args()
    for seed in range(options.rounds):
        check_round(options.program, seed)
    check_exits(options.program)
    print(f"{options.rounds} classes read back as Python's csv module wrote them")


if __name__ == "__main__":
    sys.exit(main())
