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

usage: sympy_check.py PROGRAM [--full] [--seeds N] [--count N] [--skill ID]
Without options 51 cards of each skill and tier; a quick look: --seeds 1 --count 12; --full: 1,008
cards of each skill and tier (hours).
"""
import argparse
import json
import re
import subprocess
import sys

import sympy
from sympy import Eq, S, Tuple, simplify, solve, solveset, sympify

TIERS = ("support", "core", "stretch")


def run(program, command, request=None):
    done = subprocess.run([program, command], capture_output=True, text=True,
                          input=json.dumps(request) if request else "")
    if done.returncode != 0:
        raise RuntimeError(f"exit {done.returncode}: {done.stderr.strip()}")
    return json.loads(done.stdout)


_read = {}


def read(text):
    """An expression, relation or tuple; decimals never occur, so everything stays exact."""
    if text not in _read:
        _read[text] = sympify(text, rational=True)
    return _read[text]


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


def interval(text):
    relation = read(text)
    return relation.as_set() if relation not in (S.true, S.false) else relation


def same(a, b):
    if isinstance(a, (tuple, list, Tuple)) or isinstance(b, (tuple, list, Tuple)):
        return len(a) == len(b) and all(same(x, y) for x, y in zip(a, b))
    if a == b:
        return True
    difference = a - b
    if difference.is_number:
        return simplify(difference) == 0
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


def main():
    args = argparse.ArgumentParser()
    args.add_argument("program")
    args.add_argument("--seeds", type=int, default=3)
    args.add_argument("--count", type=int, default=17)
    args.add_argument("--full", action="store_true")
    args.add_argument("--skill")
    args = args.parse_args()
    if args.full:
        args.seeds, args.count = 84, 12
    skills = [s for s in run(args.program, "skills")["skills"] if s["generator"]]
    if args.skill:
        skills = [s for s in skills if s["id"] == args.skill]
    failed = checked = 0
    for skill in skills:
        seen = set()
        problems = []
        for tier in TIERS:
            for seed in range(1, args.seeds + 1):
                try:
                    cards = run(args.program, "cards", {"skill": skill["id"], "tier": tier,
                                                        "count": args.count, "seed": seed})["cards"]
                except RuntimeError as error:
                    problems.append(f"{tier} seed {seed}: {error}")
                    continue
                if len({c["prompt"] for c in cards}) != len(cards):
                    problems.append(f"{tier} seed {seed}: repeated prompt")
                most = max(len(c["slips"]) for c in cards)
                with_slips = sum(len(c["slips"]) >= min(most, 2) for c in cards)
                if args.count >= 12 and with_slips < 0.6 * len(cards):
                    problems.append(f"{tier} seed {seed}: few cards tell slips apart")
                for card in cards:
                    checked += 1
                    seen.update(s["slip"] for s in card["slips"])
                    try:
                        trouble = check_card(card)
                    except Exception as error:  # a prompt SymPy cannot read is a failure too
                        trouble = f"{type(error).__name__}: {error}"
                    if trouble:
                        shown = json.dumps(card, ensure_ascii=False)
                        problems.append(f"{tier} seed {seed}: {trouble}: {shown}")
        listed = {s["id"] for s in skill["slips"]}
        if seen - listed or (args.count * args.seeds >= 24 and listed - seen):
            problems.append(f"slips listed but never made: {sorted(listed - seen)}; "
                            f"made but not listed: {sorted(seen - listed)}")
        for problem in problems[:6]:
            print(f"{skill['id']}: {problem}")
        failed += bool(problems)
    print(f"{checked} cards of {len(skills)} skills, {check_steps.seen} step equations checked; "
          f"{failed} skills failed")
    return 1 if failed or not skills else 0


if __name__ == "__main__":
    sys.exit(main())
