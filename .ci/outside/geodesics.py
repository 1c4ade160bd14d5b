"""Prints random geodesics on the prolate spheroid a = 30, f = -2 (30 x 90 in), solved
by GeodSolve of GeographicLib in its exact (-E) mode: lat1 lon1 lat2 lon2 s12."""

import random
import subprocess
import sys

count, seed = int(sys.argv[1]), int(sys.argv[2])
rng = random.Random(seed)
lines = [f"{rng.uniform(-60, 60):.6f} 0 {rng.uniform(-60, 60):.6f} {rng.uniform(-150, 150):.6f}" for _ in range(count)]
solved = subprocess.run(["GeodSolve", "-E", "-e", "30", "-2", "-i", "-f", "-p", "9"], input="\n".join(lines) + "\n",
                        check=True, stdout=subprocess.PIPE, text=True).stdout
print(f"# GeodSolve -E -e 30 -2 -i (GeographicLib), {count} lines, seed {seed}: lat1 lon1 lat2 lon2 s12, degrees and inches")
for line, answer in zip(lines, solved.splitlines()):
    print(line, answer.split()[6])
