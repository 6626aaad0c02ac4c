"""Makes ranks.json: Kendall's tau-b and Pearson's correlation by SciPy, with its version.

Rankings and points are invented. Run: python ranks.py > ranks.json
"""

import itertools
import json

import scipy
from scipy.stats import kendalltau, pearsonr

RATERS = {
    "grader": [98.8, 95.1, 45.0, 27.3, 51.0, 88.9, 100.0, 61.0],
    "A": [8, 7, 2, 1, 3, 6, 7, 4],
    "B": [7, 8, 3, 1, 2, 6, 8, 5],
    "C": [5, 5, 2, 2, 1, 4, 5, 3],
}
X = [100.0, 98.8, 45.0, 27.3, 51.0, 97.7]
Y = [100.0, 97.3, 45.0, 20.0, 82.2, 93.1]

out = {"scipy": scipy.__version__, "raters": RATERS, "tau_b": {}}
for a, b in itertools.combinations(RATERS, 2):
    tau = kendalltau(RATERS[a], RATERS[b], variant="b").statistic
    out["tau_b"][f"{a} {b}"] = float(tau)
out["pearson"] = {"x": X, "y": Y, "r": float(pearsonr(X, Y).statistic)}
print(json.dumps(out, indent=1))
