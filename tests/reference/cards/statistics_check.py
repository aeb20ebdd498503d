#!/usr/bin/python3
"""Checks cards of statistics and geometry against libraries other than the one of sympy_check.py.

The numbers are read from the prompt's words, so a wrong prompt_math cannot hide a wrong answer:
  * mean, median, range, interquartile range, mean absolute deviation: Python's statistics module
    over exact fractions;
  * areas of triangles, parallelograms, trapezoids and L-shapes, lengths in right triangles:
    coordinates of the figure, area by the shoelace formula (Meister 1769), lengths by math.dist.

usage: statistics_check.py PROGRAM [--seeds N] [--count N]
"""
import argparse
import json
import math
import re
import statistics
import subprocess
import sys
from fractions import Fraction

NUMBER = re.compile(r"\d+(?:,\d{3})*(?:\.\d+)?")


def run(program, request):
    done = subprocess.run([program, "cards"], capture_output=True, text=True,
                          input=json.dumps(request))
    if done.returncode != 0:
        raise RuntimeError(done.stderr.strip())
    return json.loads(done.stdout)["cards"]


def numbers(text):
    return [Fraction(n.replace(",", "")) for n in NUMBER.findall(text)]


def data_of(prompt):
    return numbers(prompt.split(" days: ")[1].split(". Find")[0])


def middle_half(values):
    order = sorted(values)
    half = len(order) // 2
    return statistics.median(order[-half:]) - statistics.median(order[:half])


def spread(values):
    center = statistics.mean(values)
    return statistics.mean([abs(v - center) for v in values])


def shoelace(points):
    twice = sum(x * v - u * y for (x, y), (u, v) in zip(points, points[1:] + points[:1]))
    return abs(twice) / 2


def mean(prompt):
    return statistics.mean(data_of(prompt))


def median(prompt):
    return statistics.median(data_of(prompt))


def interquartile(prompt):
    values = data_of(prompt)
    if "Find the range" in prompt:
        return max(values) - min(values)
    return middle_half(values)


def deviation(prompt):
    return spread(data_of(prompt))


def triangle(prompt):
    base, _, height = numbers(prompt)
    return shoelace([(0, 0), (base, 0), (base / 3, height)])


def parallelogram(prompt):
    base, _, height = numbers(prompt)
    return shoelace([(0, 0), (base, 0), (base + 2, height), (2, height)])


def trapezoid(prompt):
    a, b, height = numbers(prompt)
    return shoelace([(0, 0), (a, 0), (b + 1, height), (1, height)])


def l_shape(prompt):
    w, h, p, q = numbers(prompt)
    return shoelace([(0, 0), (w, 0), (w, h - q), (w - p, h - q), (w - p, h), (0, h)])


def hypotenuse(prompt):
    a, b = numbers(prompt)
    return math.dist((0, float(a)), (float(b), 0))


def leg(prompt):
    c, a = numbers(prompt)
    return math.sqrt(float(c) ** 2 - float(a) ** 2)


CHECKS = {"mean": mean, "median": median, "interquartile": interquartile,
          "mean-deviation": deviation, "area-triangle": triangle,
          "area-parallelogram": parallelogram, "area-trapezoid": trapezoid,
          "area-composite": l_shape, "hypotenuse": hypotenuse, "triangle-leg": leg}


def answer_of(card):
    text = card["answer_math"]
    root = re.fullmatch(r"sqrt\((.*)\)", text)
    return math.sqrt(Fraction(root[1])) if root else Fraction(text)


def main():
    args = argparse.ArgumentParser()
    args.add_argument("program")
    args.add_argument("--seeds", type=int, default=2)
    args.add_argument("--count", type=int, default=25)
    args = args.parse_args()
    checked = wrong = 0
    for skill, work_out in CHECKS.items():
        for tier in ("support", "core", "stretch"):
            for seed in range(1, args.seeds + 1):
                for card in run(args.program, {"skill": skill, "tier": tier, "count": args.count,
                                               "seed": seed}):
                    wanted, given = work_out(card["prompt"]), answer_of(card)
                    exact = isinstance(wanted, Fraction) and isinstance(given, Fraction)
                    good = wanted == given if exact else math.isclose(wanted, given,
                                                                      rel_tol=1e-12)
                    checked += 1
                    if not good:
                        wrong += 1
                        print(f"{skill} {tier} seed {seed}: {card['prompt']} is {wanted}, "
                              f"not {card['answer_math']}")
    print(f"{checked} cards of {len(CHECKS)} skills checked, {wrong} wrong")
    return 1 if wrong or not checked else 0


if __name__ == "__main__":
    sys.exit(main())
