# Mean light on the bed against time: python3 plot_bed_light.py RUN.h5 (needs h5py; plots where matplotlib is there)
import sys, h5py
run = h5py.File(sys.argv[1])
days, light = run["time"][:], run["bed/ppfd"][0].mean(axis=(1, 2))
names = run["time"].attrs["units"], run["bed/ppfd"].attrs["units"]
try:
    import matplotlib.pyplot as plt
    plt.plot(days, light), plt.xlabel(names[0]), plt.ylabel(names[1]), plt.savefig("bed_light.png")
except ImportError:
    print("%s   %s" % names, *("%9.1f %12.1f" % row for row in zip(days, light)), sep="\n")
