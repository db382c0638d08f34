"""Computes spectra with SciPy for scipy.test.ts and bench/signal.ts: JSON on standard input and output.

Input: {"jobs": [{"kind": ..., "samples": [...], ...}], "repeat": n}. Output: {"results": [...], "seconds": [...]}; seconds
are the least of n runs of each job.
"""

import json
import sys
import time

import numpy as np
import scipy.fft
import scipy.signal

WINDOWS = {
    "rectangular": "boxcar",
    "hann": "hann",
    "hamming": "hamming",
    "blackman-harris": "blackmanharris",
    "flat-top": "flattop",
}


def compute(job, samples):
    kind = job["kind"]
    if kind == "window":
        return {"weights": scipy.signal.get_window(WINDOWS[job["window"]], job["length"])}
    if kind == "fft":
        transformed = scipy.fft.rfft(samples, job["size"])
        return {"re": transformed.real, "im": transformed.imag}
    options = {
        "fs": job["sampleRateHz"],
        "window": WINDOWS[job["window"]],
        "nperseg": job["segmentLength"],
        "noverlap": job["overlap"],
        "nfft": job["size"],
        "detrend": "constant",
        "scaling": "density",
    }
    if kind == "welch":
        frequency, density = scipy.signal.welch(samples, **options)
        return {"frequencyHz": frequency, "density": density}
    frequency, times, density = scipy.signal.spectrogram(samples, mode="psd", **options)
    return {"frequencyHz": frequency, "timeS": times, "density": density.T.ravel()}


def main():
    request = json.load(sys.stdin)
    results, seconds = [], []
    for job in request["jobs"]:
        samples = np.array(job.get("samples", []), dtype=float)
        least = float("inf")
        for _ in range(request.get("repeat", 1)):
            started = time.perf_counter()
            result = compute(job, samples)
            least = min(least, time.perf_counter() - started)
        keep = request.get("keep", True)
        results.append({key: value.tolist() for key, value in result.items()} if keep else {})
        seconds.append(least)
    json.dump({"scipy": scipy.__version__, "results": results, "seconds": seconds}, sys.stdout)


main()
