"""Fits poles to spectral lines with NumPy and SciPy for scipyPoles.test.ts and bench/poles.ts: JSON on standard input and output.

Input: {"jobs": [{"kind": ..., ...}], "repeat": n}. Output: {"results": [...], "seconds": [...]}; seconds are the least of n runs.
Written from the equations alone, in the plain way of these libraries: whole arrays, dense solvers.
"""

import json
import sys
import time

import numpy as np
import scipy.linalg
import scipy.optimize

TURN_SHARE = 0.8
RIDGE = 1e-11


def fit_common_denominator(job):
    """Least-squares complex frequency estimator, one denominator for all channels, orders 1 to the highest."""
    size = job["highestOrder"] + 1
    delay = TURN_SHARE / (job["highHz"] - job["lowHz"])
    total = np.zeros((size, size), dtype=complex)
    for channel in job["channels"]:
        x = channel["x"]
        powers = np.exp(-2j * np.pi * np.outer((channel["frequenciesHz"] - job["lowHz"]) * delay, np.arange(size)))
        responses = powers * x[:, None]
        square = powers.conj().T @ powers
        square[np.diag_indices(size)] *= 1 + RIDGE
        mixed = powers.conj().T @ responses
        left = responses.conj().T @ responses - mixed.conj().T @ scipy.linalg.solve(square, mixed, assume_a="her")
        total += channel["weight"] * left
    found = []
    for order in range(1, size):
        coefficients = scipy.linalg.solve(total[:order, :order], -total[:order, order], assume_a="her")
        roots = np.roots(np.concatenate(([1], coefficients[::-1])))
        decay = np.log(np.abs(roots)) / delay
        angular = 2 * np.pi * job["lowHz"] - np.angle(roots) / delay
        inside = (decay > 0) & (angular > 2 * np.pi * job["lowHz"]) & (angular < 2 * np.pi * job["highHz"])
        found.append([decay[inside], angular[inside]])
    return {
        "order": np.concatenate([np.full(len(decay), i + 1) for i, (decay, _) in enumerate(found)]),
        "decayRate": np.concatenate([decay for decay, _ in found]),
        "angularFrequency": np.concatenate([angular for _, angular in found]),
    }


def fit_decay(job):
    """One pole in the lines of one channel by variable projection; the start is given."""
    rate = job["sampleRateHz"]
    frequencies = job["frequenciesHz"]
    line = np.exp(-2j * np.pi * frequencies / rate)
    scaled = (frequencies - frequencies.mean()) / (frequencies[-1] - frequencies[0])
    background = scaled[:, None] ** np.arange(job["backgroundTerms"])
    data = np.concatenate((job["x"].real, job["x"].imag))
    zeros = np.zeros_like(background)

    def leave(parameters):
        step = np.exp((-parameters[0] + 1j * parameters[1]) / rate)
        direct = 1 / (1 - step * line)
        mirror = 1 / (1 - step.conj() * line)
        pole = np.stack((direct + mirror, 1j * (direct - mirror)), axis=1)
        columns = np.block([[background, zeros, pole.real], [zeros, background, pole.imag]])
        return data - columns @ scipy.linalg.lstsq(columns, data)[0]

    start = np.array([job["startDecayRate"], job["startAngularFrequency"]])
    fit = scipy.optimize.least_squares(leave, start, x_scale=start[0], method="lm", xtol=1e-8, ftol=1e-10)
    return {"decayRate": fit.x[:1], "angularFrequency": fit.x[1:]}


KINDS = {"common denominator": fit_common_denominator, "decay": fit_decay}


def read(job):
    """Numbers in lists become arrays, pairs of parts become complex."""
    for holder in [job, *job.get("channels", [])]:
        if "re" in holder:
            holder["x"] = np.array(holder["re"]) + 1j * np.array(holder["im"])
        if "frequenciesHz" in holder:
            holder["frequenciesHz"] = np.array(holder["frequenciesHz"])
    return job


def main():
    request = json.load(sys.stdin)
    results, seconds = [], []
    for job in map(read, request["jobs"]):
        least = float("inf")
        for _ in range(request.get("repeat", 1)):
            started = time.perf_counter()
            result = KINDS[job["kind"]](job)
            least = min(least, time.perf_counter() - started)
        results.append({key: value.tolist() for key, value in result.items()})
        seconds.append(least)
    json.dump({"scipy": scipy.__version__, "results": results, "seconds": seconds}, sys.stdout)


main()
