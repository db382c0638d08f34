"""Computes exact limits, areas and bivariate normal probabilities with SciPy for price.test.ts: JSON in, JSON out."""

import json
import sys

import scipy
from scipy.stats import beta, mannwhitneyu, multivariate_normal


def compute(job):
    kind = job["kind"]
    if kind == "exact":
        k, n, tail = job["count"], job["trials"], (1 - job["level"]) / 2
        low = 0.0 if k == 0 else beta.ppf(tail, k, n - k + 1)
        high = 1.0 if k == n else beta.ppf(1 - tail, k + 1, n - k)
        return {"limits": [low, high]}
    if kind == "area":
        u = mannwhitneyu(job["weak"], job["sound"], alternative="two-sided", method="asymptotic").statistic
        return {"area": [u / (len(job["weak"]) * len(job["sound"]))]}
    if kind == "bivariate":
        r = job["correlation"]
        return {"chance": [multivariate_normal.cdf([job["x"], job["y"]], mean=[0, 0], cov=[[1, r], [r, 1]])]}
    raise ValueError(kind)


request = json.load(sys.stdin)
results = [{name: [float(v) for v in values] for name, values in compute(job).items()} for job in request["jobs"]]
json.dump({"scipy": scipy.__version__, "results": results, "seconds": []}, sys.stdout)
