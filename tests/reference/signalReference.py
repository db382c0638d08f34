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
    if kind == "peaks":
        return {"index": scipy.signal.find_peaks(samples, prominence=job["prominence"])[0]}
    if kind == "firwin":
        return {"taps": scipy.signal.firwin(job["taps"], job["cutOff"], window="hann")}
    if kind == "czt":
        rate = job["sampleRateHz"]
        step = (job["toHz"] - job["fromHz"]) / (job["lines"] - 1)
        transform = scipy.signal.czt(
            samples, job["lines"], np.exp(-2j * np.pi * step / rate), np.exp(2j * np.pi * job["fromHz"] / rate)
        )
        return {"re": transform.real, "im": transform.imag}
    if kind == "multitaper":
        count = len(samples)
        n = np.arange(1, count + 1)
        densities = []
        for taper in range(1, job["tapers"] + 1):
            window = np.sqrt(2 / (count + 1)) * np.sin(np.pi * taper * n / (count + 1))
            frequency, density = scipy.signal.periodogram(
                samples, job["sampleRateHz"], window=window, nfft=job["size"], detrend="constant"
            )
            densities.append(density)
        return {"frequencyHz": frequency, "density": np.mean(densities, axis=0)}
    if kind == "slepian":
        tapers = scipy.signal.windows.dpss(len(samples), (job["tapers"] + 1) / 2, job["tapers"])
        densities = [
            scipy.signal.periodogram(
                samples, job["sampleRateHz"], window=taper, nfft=job["size"], detrend="constant"
            )[1]
            for taper in tapers
        ]
        return {"density": np.mean(densities, axis=0)}
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
