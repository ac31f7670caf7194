# Bed light against time, from any trajectory: /usr/bin/python3 plot_bed_light.py RUN.h5
import sys, h5py, importlib.util
run = h5py.File(sys.argv[1]); days = run["time"][...]; light = run["bed/ppfd"][0].mean(axis=(1, 2))
if importlib.util.find_spec("matplotlib"): import matplotlib.pyplot as plt; plt.plot(days, light); plt.xlabel("days"); plt.ylabel("umol m-2 s-1"); plt.savefig("bed_light.png")
else: print("\n".join(f"day {d:6.1f}  {p:6.1f} umol m-2 s-1" for d, p in zip(days[::13], light[::13])))
