"""Fits and estimates the year that year.cpp wrote with a general library (Debian's
python3-pomegranate): a two-state hidden Markov model a class, Baum-Welch for as many rounds as the
second argument says, then the chances of both states at every mark. Prints milliseconds."""
import sys
import time

import numpy
from pomegranate import DiscreteDistribution, HiddenMarkovModel

classes = [part.split("\n") for part in open(sys.argv[1]).read().strip().split("\n\n")]
rounds = int(sys.argv[2])
data = [[numpy.array(list(line)) for line in lines if line] for lines in classes]

start = time.perf_counter()
for sequences in data:
    model = HiddenMarkovModel.from_matrix(
        numpy.array([[0.95, 0.05], [0.1, 0.9]]),
        [DiscreteDistribution({"0": 0.85, "1": 0.10, "2": 0.05}),
         DiscreteDistribution({"0": 0.20, "1": 0.30, "2": 0.50})],
        [0.5, 0.5])
    model.fit(sequences, algorithm="baum-welch", max_iterations=rounds, stop_threshold=-1e9)
    for sequence in sequences:
        model.predict_proba(sequence)
print(round(1000 * (time.perf_counter() - start), 1))
