#!/usr/bin/python3
"""Checks every card generator against SymPy (Debian package python3-sympy).

For each skill, tier and seed the command line program makes a set of cards; SymPy, which shares no
code with it, then works out prompt_math and compares. Checked for every card:
  * the answer is right: equal to the prompt's value, a solution of its equation or system, or the
    same set of numbers for an inequality;
  * the answer of every slip is wrong, and no two of them are equal;
  * every "a = b" in the steps that consists of numbers is true;
  * no two prompts in a set are the same.
Per skill: at least 60 % of each set of 12 name two slips or more, and every slip the skill lists
turns up (with 24 cards or more a tier).

usage: sympy_check.py PROGRAM [--full [--resume FILE]] [--seeds N] [--count N] [--skill ID]
Without options three sets of 17 cards of each skill and tier; a quick look: --seeds 1 --count 12;
--full: besides those, one card of each seed up to 1,000 (about half an hour). A line is printed
when a skill is done; with --resume it goes to FILE, too, and skills found there are not done again.
"""
import argparse
import functools
import json
import os
import re
import subprocess
import sys
import time

import sympy
from sympy import Eq, S, Tuple, simplify, solve, solveset, sympify

TIERS = ("support", "core", "stretch")
FULL_SEEDS = 1000


def run(program, command, request=None):
    done = subprocess.run([program, command], capture_output=True, text=True,
                          input=json.dumps(request) if request else "")
    if done.returncode != 0:
        raise RuntimeError(f"exit {done.returncode}: {done.stderr.strip()}")
    return json.loads(done.stdout)


FRACTION = re.compile(r"(-?\d+)(?:/(\d+))?")


@functools.cache
def read(text):
    """An expression, relation or tuple; decimals never occur, so everything stays exact."""
    plain = FRACTION.fullmatch(text)
    if plain and plain[2] != "0":
        return sympy.Rational(int(plain[1]), int(plain[2] or 1))
    return sympify(text, rational=True)


def split_top(text, mark):
    """Splits at a mark outside of brackets."""
    parts, depth, start = [], 0, 0
    for i, c in enumerate(text):
        depth += c in "([{"
        depth -= c in ")]}"
        if c == mark and depth == 0:
            parts.append(text[start:i])
            start = i + 1
    return parts + [text[start:]]


def is_equation(text):
    return re.search(r"(?<![<>=!])=(?!=)", text) is not None


def equations(text):
    found = []
    for part in split_top(text, ","):
        left, right = part.split("=")
        found.append(Eq(read(left), read(right), evaluate=False))
    return found


def is_relation(text):
    return "<" in text or ">" in text


@functools.cache
def solutions(text):
    """The set of solutions of one equation or of a system, as comparable text."""
    eqs = equations(text)
    names = sorted(set().union(*(e.free_symbols for e in eqs)), key=str)
    if len(eqs) == 1 and len(names) > 1:  # a rule or a line: the same up to a factor
        whole = sympy.expand(eqs[0].lhs - eqs[0].rhs)
        return {sympy.expand(whole / whole.coeff(names[-1]))}
    if len(eqs) == 1:
        found = solve(eqs[0].lhs - eqs[0].rhs, names[0])
        return {(str(names[0]), v) for v in found if v.is_real}
    # "x=7,x=-7" lists several solutions of one letter; otherwise it is a system.
    if len(names) == 1:
        return set().union(*(solutions(p) for p in split_top(text, ",")))
    found = solve(eqs, names, dict=True)
    return {(str(k), v) for k, v in found[0].items()} if len(found) == 1 else found


@functools.cache
def interval(text):
    relation = read(text)
    return relation.as_set() if relation not in (S.true, S.false) else relation


def same(a, b):
    if isinstance(a, (tuple, list, Tuple)) or isinstance(b, (tuple, list, Tuple)):
        return len(a) == len(b) and all(same(x, y) for x, y in zip(a, b))
    if a == b:
        return True
    if a.is_Rational and b.is_Rational:
        return False
    difference = a - b
    if difference.is_number:
        # evalf states digits it is sure of: a difference far from zero needs no algebra.
        return not abs(difference.evalf(30)) > S(10) ** -20 and simplify(difference) == 0
    return sympy.expand(difference) == 0 or simplify(difference) == 0


def right(prompt, answer):
    if is_relation(prompt):
        return interval(prompt) == interval(answer)
    if is_equation(prompt):
        if not is_equation(answer):  # how many solutions
            left, r = prompt.split("=")
            difference = sympy.expand(read(left) - read(r))
            count = S.Infinity if difference == 0 else S(len(difference.free_symbols))
            return count == read(answer)
        return solutions(prompt) == solutions(answer)
    if is_equation(answer):
        return False
    return same(read(prompt), read(answer))


def equal_answers(a, b):
    if a == b:
        return True
    if is_equation(a) or is_equation(b):
        return is_equation(a) and is_equation(b) and solutions(a) == solutions(b)
    if is_relation(a) or is_relation(b):
        return is_relation(a) and is_relation(b) and interval(a) == interval(b)
    return same(read(a), read(b))


PLAIN = re.compile(r"^[\d\s+*/().^-]+$")


def plain_math(text):
    """Printed arithmetic to SymPy's; None when it holds anything but numbers."""
    text = text.strip().replace("−", "-").replace("×", "*").replace("÷", "/")
    text = re.sub(r"(?<=\d),(?=\d{3})", "", text).replace("$", "")
    text = re.sub(r"(\d+(?:\.\d+)?)%", r"(\1/100)", text)
    raised = "⁰¹²³⁴⁵⁶⁷⁸⁹"
    text = re.sub(r"(⁻?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+)",
                  lambda m: "^(" + ("-" if m[1] else "") +
                  "".join(str(raised.index(c)) for c in m[2]) + ")", text)
    text = re.sub(r"(-?)(\d+) (\d+)/(\d+)", r"(\g<1>(\2+\3/\4))", text)
    # "a/b ÷ c/d" groups each fraction.
    text = re.sub(r"(?<![\d.^(/])(\d+)/(\d+)(?![\d.])", r"(\1/\2)", text)
    return text if PLAIN.match(text) and re.search(r"\d", text) else None


UNITS = re.compile(r" (?:of )?[A-Za-z°][A-Za-z°²³/ ]*$")


def check_steps(steps):
    for step in steps:
        for clause in re.split(r": |, | and |; | so ", step):
            sides = [plain_math(UNITS.sub("", s.rstrip("."))) for s in clause.split("=")]
            sides = [s for s in sides if s]
            if clause.count("=") + 1 != len(sides) or len(sides) < 2:
                continue
            values = [read(s) for s in sides]
            if not all(same(values[0], v) for v in values[1:]):
                return f"step is false: {step!r}"
            check_steps.seen += 1
    return None


check_steps.seen = 0


def check_card(card):
    if not right(card["prompt_math"], card["answer_math"]):
        return "answer is not right"
    answers = [s["answer_math"] for s in card["slips"]]
    for i, wrong in enumerate(answers):
        if equal_answers(wrong, card["answer_math"]):
            return f"slip {card['slips'][i]['slip']} gives the right answer"
        for other in answers[:i]:
            if equal_answers(wrong, other):
                return f"two slips give {wrong}"
    return check_steps(card["steps"])


class Report:
    """What was found about one skill."""

    def __init__(self):
        self.cards = 0
        self.seen = set()
        self.problems = []

    def set_of(self, where, cards):
        if len({c["prompt"] for c in cards}) != len(cards):
            self.problems.append(f"{where}: repeated prompt")
        most = max(len(c["slips"]) for c in cards)
        with_slips = sum(len(c["slips"]) >= min(most, 2) for c in cards)
        if len(cards) >= 12 and with_slips < 0.6 * len(cards):
            self.problems.append(f"{where}: few cards tell slips apart")
        for card in cards:
            self.cards += 1
            self.seen.update(s["slip"] for s in card["slips"])
            try:
                trouble = check_card(card)
            except Exception as error:  # a prompt SymPy cannot read is a failure too
                trouble = f"{type(error).__name__}: {error}"
            if trouble:
                self.problems.append(f"{where}: {trouble}: {json.dumps(card, ensure_ascii=False)}")


def requests(args):
    """(seed, sets, cards a set): three sets of many cards, then one card a seed."""
    yield 1, args.seeds, args.count
    if args.full:
        for first in range(args.seeds + 1, FULL_SEEDS + 1, 100):
            yield first, min(100, FULL_SEEDS + 1 - first), 1


def check_skill(args, skill):
    for known in (read, solutions, interval):
        known.cache_clear()
    report = Report()
    for tier in TIERS:
        for seed, sets, count in requests(args):
            request = {"skill": skill["id"], "tier": tier, "count": count, "seed": seed,
                       "sets": sets}
            try:
                made = run(args.program, "cards", request)["sets"]
            except RuntimeError as error:
                report.problems.append(f"{tier} seed {seed}: {error}")
                continue
            if [s["seed"] for s in made] != list(range(seed, seed + sets)):
                report.problems.append(f"{tier} seed {seed}: not the sets that were asked for")
            for one in made:
                report.set_of(f"{tier} seed {one['seed']}", one["cards"])
    listed = {s["id"] for s in skill["slips"]}
    never = listed - report.seen if args.count * args.seeds >= 24 else set()
    if report.seen - listed or never:
        report.problems.append(f"slips listed but never made: {sorted(never)}; "
                               f"made but not listed: {sorted(report.seen - listed)}")
    return report


def done_before(path):
    """Lines of an earlier run, by skill; a skill that failed is done again."""
    if not path or not os.path.exists(path):
        return {}
    with open(path, encoding="utf-8") as file:
        lines = [json.loads(line) for line in file if line.endswith("\n")]
    return {line["skill"]: line for line in lines if not line["failed"]}


def main():
    args = argparse.ArgumentParser()
    args.add_argument("program")
    args.add_argument("--seeds", type=int, default=3)
    args.add_argument("--count", type=int, default=17)
    args.add_argument("--full", action="store_true")
    args.add_argument("--resume")
    args.add_argument("--skill")
    args = args.parse_args()
    skills = [s for s in run(args.program, "skills")["skills"] if s["generator"]]
    if args.skill:
        skills = [s for s in skills if s["id"] == args.skill]
    print(f"seeds 1 to {args.seeds} with {args.count} cards each" +
          (f", {args.seeds + 1} to {FULL_SEEDS} with one" if args.full else ""), flush=True)
    lines = done_before(args.resume)
    for number, skill in enumerate(skills, 1):
        if skill["id"] in lines:
            continue
        begun = time.monotonic()
        check_steps.seen = 0
        report = check_skill(args, skill)
        for problem in report.problems[:6]:
            print(f"{skill['id']}: {problem}")
        line = {"skill": skill["id"], "cards": report.cards, "steps": check_steps.seen,
                "failed": len(report.problems), "seconds": round(time.monotonic() - begun, 1)}
        lines[skill["id"]] = line
        if args.full:
            print(f"{number}/{len(skills)} {json.dumps(line)}", flush=True)
        if args.resume:
            with open(args.resume, "a", encoding="utf-8") as file:
                file.write(json.dumps(line) + "\n")
    found = [lines[s["id"]] for s in skills]
    total = {key: sum(line[key] for line in found) for key in ("cards", "steps", "seconds")}
    failed = sum(line["failed"] > 0 for line in found)
    print(f"{total['cards']} cards of {len(skills)} skills, {total['steps']} step equations "
          f"checked in {total['seconds'] / 60:.1f} minutes; {failed} skills failed")
    return 1 if failed or not skills else 0


if __name__ == "__main__":
    sys.exit(main())
