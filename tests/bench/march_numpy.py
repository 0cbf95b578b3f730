#!/usr/bin/python3
"""A lip and a ring on one shaft through a drive cycle, all samples at once in NumPy, against the
library's march: the same physics written a second time, the heat flow by another road.

    march_numpy.py BENCH_MARCH CYCLE [SAMPLES [ROUNDS]]

A round runs BENCH_MARCH, which marches every sample alone, side by side and with tables, reads the
inputs of its samples and marches them here; times are medians over the rounds. Ends with 1 if an
energy or the final oil temperature [K] of any sample and any form differs by more than 1e-6
relative, with 77 where NumPy is missing. Times fail nothing, as the machine may be busy.

Sources, all as the library's headers quote them: film friction and its load share (Jagger 1957, the
share derived); Walther's viscosity, ASTM D341 short form; density of the lubricant group, ASTM
D1250; Becker 1963 and Churchill & Chu 1975 for convection; fins as transmission lines (textbook);
air of the U.S. Standard Atmosphere 1976. Constants from memory where the headers say so.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time

try:
    import numpy as np
except ImportError:
    print("skipped: NumPy is not installed (Debian package python3-numpy)")
    sys.exit(77)

TOLERANCE = 1e-6
RESULTS = ("lip_J", "ring_J", "oil_end_K")

# Multiplications, additions and divisions, each as one, counted by hand in the sources: what the
# formulas ask for, not what the machine makes of it. An exponential has 30 and a logarithm 27
# (numerics/lane_math.hpp). A lip's friction and its step of Newton (component/wide_shaft.cpp): 5
# exponentials, 2 logarithms, 47 beside them. A settled shaft of a lip and a ring beside its
# frictions: 3 exponentials and a logarithm for the oil's film and its end, 87 beside them for the
# nodes and flows, 27 as its share of what hangs on oil or speed alone. A solve's share of making
# the table's polynomials: 284. A look-up: two functions of 4 speeds and 6 powers, 9 a power; 35 for
# the sums and the sump.
FRICTION_FLOP = 5 * 30 + 2 * 27 + 47
SETTLE_FLOP = 3 * 30 + 27 + 87 + 27
TABLE_FLOP = 284
LOOK_UP_FLOP = 2 * 6 * 9 + 35

# The same for all samples, as in march_case.hpp.
GEAR_RATIO, CIRCUMFERENCE_M = 9.0, 2.1
OIL_W_MK, OIL_J_KGK = 0.135, 2150.0
WALTHER_C = 0.7
AIR_STREAM_AT_M_S, AIR_STREAM_EXPONENT = 60.0 / 3.6, 0.7
MODULUS_AT_K = np.array([-20.0, -7.0, 20.0, 60.0, 100.0, 150.0]) + 273.15
MODULUS_RATIO = np.array([2.5, 1.5, 1.0, 0.75, 0.6, 0.5])

GRAVITY = 9.80665
FILM_REFERENCE_WIDTH_M = 0.2e-3


class Oil:
    """Viscosity and density over temperature of every sample."""

    def __init__(self, s):
        lg_lg_40 = np.log10(np.log10(s["nu_40_mm2_s"] + WALTHER_C))
        lg_lg_100 = np.log10(np.log10(s["nu_100_mm2_s"] + WALTHER_C))
        self.b = (lg_lg_40 - lg_lg_100) / np.log10(373.15 / 313.15)
        a = lg_lg_40 + self.b * np.log10(313.15)
        self.ln_scale = np.log(np.log(10.0)) + a * np.log(10.0)
        self.alpha = 0.6278 / s["density_15_kg_m3"]
        self.density_15 = s["density_15_kg_m3"]

    def at(self, kelvin):
        """nu [m2/s], rho [kg/m3], -d ln nu/dT and -d ln rho/dT [1/K]."""
        ln_shifted = np.exp(self.ln_scale - self.b * np.log(kelvin))
        shifted = np.exp(ln_shifted)
        nu = shifted - WALTHER_C
        swelling = self.alpha * (kelvin - 288.15)
        rho = self.density_15 * np.exp(-swelling * (1.0 + 0.8 * swelling))
        thinning = shifted / nu * ln_shifted * self.b / kelvin
        return 1e-6 * nu, rho, thinning, self.alpha * (1.0 + 1.6 * swelling)


def nusselt_cubes(d, rise, nu, prandtl, expansion):
    """Nu^3 of free convection, and what multiplies omega^2 in that of a turning cylinder."""
    rayleigh = GRAVITY * expansion * rise * d**3 * prandtl / nu**2
    free = 0.60 + 0.387 * rayleigh ** (1 / 6) / (1.0 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
    return free**6, 0.133**3 * prandtl * (d * d / (2.0 * nu)) ** 2


def air_cubes(s):
    t = s["dry_degC"] + 273.15
    mu = 1.458e-6 * t**1.5 / (t + 110.4)
    k = 2.64638e-3 * t**1.5 / (t + 245.4 * 10.0 ** (-12.0 / t))
    nu = mu * 287.05 * t / 101325.0
    free, turning = nusselt_cubes(s["diameter_m"], s["free_rise_K"], nu, mu * 1006.0 / k, 1.0 / t)
    scale = (k / s["diameter_m"]) ** 3
    return scale * free, scale * turning


def band_resistance(s, width):
    a = 0.5 * s["diameter_m"]
    return (np.log(a / width) + 0.032 - 0.30 * width / a) / (2.0 * np.pi**2 * s["shaft_W_mK"] * a)


def march(s, speed_kmh, dt_s):
    """Energies of lip and ring [J] and oil temperature at the end [K], each over the samples."""
    d, k = s["diameter_m"], s["shaft_W_mK"]
    oil_law = Oil(s)
    dry_K = s["dry_degC"] + 273.15
    ambient_K = s["ambient_degC"] + 273.15
    air_free, air_turning = air_cubes(s)
    lip_band = band_resistance(s, s["lip_width_m"])
    ring_band = band_resistance(s, s["ring_width_m"])
    lip_body = (np.log(s["lip_reach_m"] / s["lip_width_m"]) + 1.5) / (
        np.pi * s["lip_W_mK"] * np.pi * d)
    ring_leak = 1.0 / (ring_band + s["ring_body_K_W"])  # shaft through the ring to the dry side
    ring_into_shaft = s["ring_body_K_W"] * ring_leak
    ring_N = np.pi * d * s["ring_force_N_m"] * s["ring_friction"]
    between = s["ring_after_lip_m"]
    behind = s["dry_side_m"] - between
    fin = 0.5 * np.pi * d * np.sqrt(k * d)  # times sqrt(h): W/K
    decay = 2.0 / np.sqrt(k * d)  # times sqrt(h): 1/m
    film = s["film_coefficient"] * np.cbrt(s["lip_width_m"] / FILM_REFERENCE_WIDTH_M)
    mu_b, m = s["boundary_friction"], s["load_share_exponent"]
    ln_transition = np.log(s["transition_duty"])

    oil_K = s["start_degC"] + 273.15
    lip_K = None
    lip_J, ring_J = np.zeros_like(d), np.zeros_like(d)
    for v_kmh, dt in zip(speed_kmh, dt_s):
        v = v_kmh / 3.6
        omega = 2.0 * np.pi * GEAR_RATIO * v / CIRCUMFERENCE_M
        rim = 0.5 * omega * d

        # Films on both sides at the temperatures of their fluids.
        nu, rho, _, expansion = oil_law.at(oil_K)
        free, turning = nusselt_cubes(d, s["free_rise_K"], nu, nu * rho * OIL_J_KGK / OIL_W_MK,
                                      expansion)
        root_h_oil = np.sqrt(s["wetted_factor"] * OIL_W_MK / d * np.cbrt(free + turning * omega**2))
        root_h_air = np.cbrt(np.sqrt(air_free + air_turning * omega**2))

        # The shaft as a transmission line, temperatures over the dry side. Beyond the ring a free
        # end, up to the lip a stretch in air, on the oil side an end held at the oil.
        to_oil = fin * root_h_oil / np.tanh(decay * root_h_oil * s["oil_side_m"])
        line, per_m = fin * root_h_air, decay * root_h_air
        load = line * np.tanh(per_m * behind) + ring_leak
        t = np.tanh(per_m * between)
        to_air = line * (load + line * t) / (line + load * t)
        transfer = np.sqrt(1.0 - t * t) / (1.0 + load / line * t)
        ring_W = ring_N * rim
        arriving_W = transfer * ring_into_shaft * ring_W
        shunt = to_oil + to_air
        oil_over_dry = oil_K - dry_K
        root_K = dry_K + (to_oil * oil_over_dry + arriving_W) / shunt  # without the lip
        shaft_resistance = lip_band + 1.0 / shunt
        resistance = 1.0 / (1.0 / shaft_resistance + 1.0 / lip_body)
        idle_K = resistance * (root_K / shaft_resistance + oil_K / lip_body)

        # The lip against its own heat: theta = idle + R P(theta), by Newton over all samples.
        if omega > 0.0:
            softened = np.interp(oil_K, MODULUS_AT_K, MODULUS_RATIO)
            force = s["lip_force_N_m"] * (1.0 + s["elastic_share"] * (softened - 1.0))
            unity_W = np.pi * d * force * rim
            ln_u_over_force = np.log(rim / force)
            theta = idle_K if lip_K is None else np.maximum(lip_K, idle_K)
            for _ in range(50):
                nu, rho, thinning, swelling = oil_law.at(theta)
                ln_duty = ln_u_over_force + np.log(nu * rho)
                x = np.exp(m * (ln_duty - ln_transition))
                share = np.exp(-x)
                fluid = film * np.exp(ln_duty / 3.0)
                friction = mu_b * share + (1.0 - share) * fluid
                slope = -(thinning + swelling) * (
                    (fluid - mu_b) * share * m * x + (1.0 - share) * fluid / 3.0)
                step = (idle_K + resistance * unity_W * friction - theta) / (
                    1.0 - resistance * unity_W * slope)
                theta = theta + step
                if np.max(np.abs(step)) < 1e-5:  # what is left is its square
                    break
            else:
                raise RuntimeError("the contact temperature does not settle")
            lip_K = theta
            lip_W = unity_W * (friction + slope * step)
        else:
            theta, lip_W = idle_K, 0.0

        into_shaft_W = (theta - root_K) / shaft_resistance
        under_lip_K = theta - lip_band * into_shaft_W
        sump_W = to_oil * (under_lip_K - oil_K) + (theta - oil_K) / lip_body + s["other_heat_W"]
        lip_J += lip_W * dt
        ring_J += ring_W * dt
        cooling = s["conductance_W_K"] + s["air_stream_W_K"] * (
            (v / AIR_STREAM_AT_M_S) ** AIR_STREAM_EXPONENT if v > 0.0 else 0.0)
        settled_K = ambient_K + sump_W / cooling
        oil_K = settled_K + (oil_K - settled_K) * np.exp(-cooling * dt / s["capacity_J_K"])
    return lip_J, ring_J, oil_K


def mid_speeds(cycle):
    table = np.loadtxt(cycle, delimiter=",", skiprows=1, usecols=(0, 1))
    return 0.5 * (table[1:, 1] + table[:-1, 1]), np.diff(table[:, 0])


def library_run(program, cycle, samples):
    """Counts and times by form, and the columns: inputs of every sample, results of every form."""
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "march.csv")
        subprocess.run([program, cycle, out, samples, "1"], check=True, stdout=subprocess.PIPE)
        forms = {}
        with open(out, encoding="ascii") as file:
            line = file.readline()
            while line.startswith("#"):
                name, *numbers = line[1:].split()
                forms[name] = [float(word) for word in numbers]
                line = file.readline()
            columns = np.loadtxt(file, delimiter=",", ndmin=2).T
    columns = {name: np.ascontiguousarray(c) for name, c in zip(line.strip().split(","), columns)}
    return forms, columns


def peak(program, cycle):
    """Multiplications and additions a second of a core, unfused, at its widest vectors."""
    lines = subprocess.run([program, cycle, "peak"], check=True, stdout=subprocess.PIPE, text=True)
    return float(lines.stdout.splitlines()[-1].split()[-2])


def agrees(forms, library, here):
    agree = True
    for form in forms:
        count = int(forms[form][0])
        for name, value in zip(RESULTS, here):
            theirs = library[f"{form}_{name}"][:count]
            differs = np.abs(value[:count] - theirs) / np.abs(theirs)
            worst = int(np.argmax(differs))
            kept = bool(differs[worst] <= TOLERANCE)  # false for what is no number
            agree = agree and kept
            print(f"{form:10} {name:10} from {theirs.min():.6g} to {theirs.max():.6g}, largest "
                  f"relative difference {differs[worst]:.2e} in sample {worst}"
                  f"{'' if kept else ': MORE THAN ' + format(TOLERANCE, 'g')}")
    return agree


def main():
    if not 3 <= len(sys.argv) <= 5:
        print("usage: march_numpy.py BENCH_MARCH CYCLE [SAMPLES [ROUNDS]]", file=sys.stderr)
        return 2
    program, cycle = sys.argv[1:3]
    samples, rounds = (sys.argv[3:] + ["2000", "3"][len(sys.argv) - 3:])[:2]
    speed, dt = mid_speeds(cycle)
    rows, wall, cpu = [], [], []
    for _ in range(int(rounds)):
        forms, library = library_run(program, cycle, samples)
        rows.append(forms)
        wall_start, cpu_start = time.perf_counter(), time.process_time()
        here = march(library, speed, dt)
        wall.append(time.perf_counter() - wall_start)
        cpu.append(time.process_time() - cpu_start)
    lane_steps = float(samples) * len(speed)
    numpy_s = statistics.median(cpu) / lane_steps
    numpy_wall_s = statistics.median(wall) / lane_steps
    peak_flop_s = peak(program, cycle)

    print(f"{samples} samples of {len(speed)} steps, median of {rounds} rounds, load of the machine "
          f"{os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    print(f"{'':10} {'CPU ns a':>10} {'lane-steps a':>13} {'times':>7} {'efficiency of 2':>20} "
          f"{'times NumPy,':>13}")
    print(f"{'':10} {'lane-step':>10} {'core and s':>13} {'NumPy':>7} {'threads: CPU':>14} "
          f"{'wall':>5} {'2 threads':>13}")
    print(f"{'NumPy':10} {1e9 * numpy_s:10.1f} {1 / numpy_s:13.3g} {1:7.2f}")
    for form in rows[0]:
        count, solves, evaluations, *_ = rows[0][form]
        steps = count * len(speed)
        wall_1, cpu_1, wall_2, cpu_2 = (statistics.median(row[form][k] for row in rows) / steps
                                        for k in range(3, 7))
        print(f"{form:10} {1e9 * cpu_1:10.1f} {1 / cpu_1:13.3g} {numpy_s / cpu_1:7.2f} "
              f"{cpu_1 / cpu_2:14.2f} {wall_1 / (2 * wall_2):5.2f} {numpy_wall_s / wall_2:13.2f}")
    # Of the last form, the one with tables.
    flop = (solves * (SETTLE_FLOP + TABLE_FLOP) + evaluations * FRICTION_FLOP) / steps + LOOK_UP_FLOP
    print(f"with tables {solves / count:.0f} solves a sample of {evaluations / solves:.2f} frictions "
          f"each; {flop:.0f} flop a lane-step, {flop / cpu_1:.3g} flop/s: "
          f"{100 * flop / cpu_1 / peak_flop_s:.0f} % of the {peak_flop_s:.3g} that as many "
          f"multiplications as additions reach in registers")
    return 0 if agrees(rows[0], library, here) else 1


if __name__ == "__main__":
    sys.exit(main())
