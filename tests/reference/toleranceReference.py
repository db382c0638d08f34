"""Quantiles of the noncentral t and chances of a normal and a Student t quantity together, by SciPy. Jobs come as JSON on standard input."""

import json
import sys
import time

import scipy
from scipy.integrate import quad
from scipy.stats import nct, norm, t


def quantile(job):
    return [float(nct.ppf(*case)) for case in job["cases"]]


def chance(x, sd, nu):
    density = lambda z: norm.pdf(z) * t.cdf(x - sd * z, nu)
    return quad(density, -40, 40, epsabs=1e-14, epsrel=1e-12, limit=1000, points=[-5, -1, 0, 1, 5])[0]


def together(job):
    return [chance(*case) for case in job["cases"]]


results, seconds = [], []
for job in json.load(sys.stdin)["jobs"]:
    started = time.perf_counter()
    results.append({"values": {"quantile": quantile, "together": together}[job["kind"]](job)})
    seconds.append(time.perf_counter() - started)
json.dump({"scipy": scipy.__version__, "results": results, "seconds": seconds}, sys.stdout)
