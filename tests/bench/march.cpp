// How fast one shaft over its sump marches through a drive cycle for many samples (march_case.hpp):
// each sample alone, many side by side with every stretch solved, and with tables.
//
//   bench_march CYCLE OUT [SAMPLES [REPEATS]]   times 1 and 2 threads, writes a row a sample
//   bench_march CYCLE growth                    time and memory from 1000 to 100 000 samples
//   bench_march CYCLE peak                      multiplications and additions a second of a core
//
// OUT holds inputs and results of every sample, so that march_numpy.py can hold its own model of
// the same physics against them. Times fail nothing, as the machine may be busy; a result that
// hangs on the number of threads does.

#include <oneapi/tbb/global_control.h>
#include <oneapi/tbb/parallel_for.h>
#include <sys/resource.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <limits>
#include <memory>
#include <string>
#include <vector>

#include "bench/march_case.hpp"
#include "bench/peak.hpp"

namespace {

using namespace ohmdrag;
using namespace ohmdrag::bench;

struct Outcome {
  double lip_J, ring_J, oil_end_K;

  bool operator==(const Outcome&) const = default;
};

struct Run {
  std::vector<Outcome> outcomes;
  energy::WideEffort effort;         ///< side by side
  double wall_s = 0.0, cpu_s = 0.0;  ///< processor time of all threads
};

struct Form {
  const char* name;
  std::size_t most_samples;  ///< more would only take longer
  void (*march)(Run& run, const std::vector<energy::Stretch>& stretches);
};

void march_alone(Run& run, const std::vector<energy::Stretch>& stretches) {
  oneapi::tbb::parallel_for(std::size_t{0}, run.outcomes.size(), [&](std::size_t i) {
    const energy::WideSample sample = sample_of(inputs_of(i));
    const energy::DriveUnit unit{
        .shafts = {sample.shaft},
        .parts = {{"lip", energy::ContactPart{0, 0}}, {"ring", energy::ContactPart{0, 1}}}};
    const std::array dry{sample.dry};
    const energy::Ledger ledger = energy::march(unit, stretches, 1, sample.sump, dry);
    run.outcomes[i] = {ledger.phases.front().of_part(0).value(),
                       ledger.phases.front().of_part(1).value(), ledger.oil_at_end.value()};
  });
}

void march_side_by_side(Run& run, const std::vector<energy::Stretch>& stretches,
                        energy::WideForm form) {
  const energy::WideLedger ledger =
      energy::wide_march(run.outcomes.size(), [](std::size_t i) { return sample_of(inputs_of(i)); },
                         stretches, 0, 1, {.form = form});
  for (std::size_t i = 0; i < run.outcomes.size(); ++i)
    run.outcomes[i] = {ledger.whole_J(0, i), ledger.whole_J(1, i), ledger.oil_at_end_K[i]};
  run.effort = ledger.effort;
}

constexpr std::array forms{Form{"alone", 200, march_alone},
                           Form{"solved", std::numeric_limits<std::size_t>::max(),
                                [](Run& run, const std::vector<energy::Stretch>& stretches) {
                                  march_side_by_side(run, stretches, energy::WideForm::solved);
                                }},
                           Form{"tabulated", std::numeric_limits<std::size_t>::max(),
                                [](Run& run, const std::vector<energy::Stretch>& stretches) {
                                  march_side_by_side(run, stretches, energy::WideForm::tabulated);
                                }}};

Run run(const Form& form, std::size_t samples, std::size_t threads,
        const std::vector<energy::Stretch>& stretches) {
  const oneapi::tbb::global_control limit(oneapi::tbb::global_control::max_allowed_parallelism,
                                          threads);
  Run result;
  result.outcomes.resize(std::min(samples, form.most_samples));
  const auto start = std::chrono::steady_clock::now();
  const std::clock_t cpu_start = std::clock();
  form.march(result, stretches);
  result.cpu_s = static_cast<double>(std::clock() - cpu_start) / CLOCKS_PER_SEC;
  result.wall_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  return result;
}

/// The same run several times: the outcomes of the first, the medians of the times.
Run median_run(const Form& form, std::size_t samples, std::size_t threads, int repeats,
               const std::vector<energy::Stretch>& stretches) {
  std::vector<double> wall_s, cpu_s;
  Run first;
  for (int i = 0; i < repeats; ++i) {
    Run here = run(form, samples, threads, stretches);
    wall_s.push_back(here.wall_s);
    cpu_s.push_back(here.cpu_s);
    if (i == 0) first = std::move(here);
  }
  for (auto* times : {&wall_s, &cpu_s})
    std::ranges::nth_element(*times, times->begin() + repeats / 2);
  first.wall_s = wall_s[static_cast<std::size_t>(repeats / 2)];
  first.cpu_s = cpu_s[static_cast<std::size_t>(repeats / 2)];
  return first;
}

/// First a line a form: its name, samples, solves, evaluations of friction and the times of one and
/// two threads. Seventeen digits give every value back exactly. A form that took fewer samples
/// leaves nan.
void write(const char* file, std::size_t samples, const std::vector<Run>& one,
           const std::vector<Run>& two) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> out(std::fopen(file, "w"), std::fclose);
  if (!out) throw std::runtime_error(std::string("cannot write ") + file);
  for (std::size_t f = 0; f < forms.size(); ++f)
    std::fprintf(out.get(), "# %s %zu %zu %zu %.6g %.6g %.6g %.6g\n", forms[f].name,
                 one[f].outcomes.size(), one[f].effort.solves, one[f].effort.evaluations,
                 one[f].wall_s, one[f].cpu_s, two[f].wall_s, two[f].cpu_s);
  const char* comma = "";
  for (const Column& column : columns) {
    std::fprintf(out.get(), "%s%s", comma, column.name);
    comma = ",";
  }
  for (const Form& form : forms)
    std::fprintf(out.get(), ",%s_lip_J,%s_ring_J,%s_oil_end_K", form.name, form.name, form.name);
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  for (std::size_t i = 0; i < samples; ++i) {
    const Inputs in = inputs_of(i);
    comma = "\n";
    for (const Column& column : columns) {
      std::fprintf(out.get(), "%s%.17g", comma, in.*column.member);
      comma = ",";
    }
    for (const Run& form : one) {
      const Outcome o = i < form.outcomes.size() ? form.outcomes[i] : Outcome{none, none, none};
      std::fprintf(out.get(), ",%.17g,%.17g,%.17g", o.lip_J, o.ring_J, o.oil_end_K);
    }
  }
  std::fprintf(out.get(), "\n");
}

int compare_threads(const char* cycle, const char* out, std::size_t samples, int repeats) {
  const auto stretches = stretches_of(cycle);
  std::vector<Run> one, two;
  std::printf("%zu samples of %zu steps, %s, median of %d\n", samples, stretches.size(),
              std::string(numerics::name(numerics::widest_lanes())).c_str(), repeats);
  std::printf("%-10s %8s %9s %9s %22s %11s\n", "form", "threads", "wall s", "CPU s",
              "lane-steps/s of a core", "efficiency");
  bool same = true;
  for (const Form& form : forms) {
    one.push_back(median_run(form, samples, 1, repeats, stretches));
    two.push_back(median_run(form, samples, 2, repeats, stretches));
    const double lane_steps = static_cast<double>(one.back().outcomes.size() * stretches.size());
    for (const Run* r : {&one.back(), &two.back()}) {
      const int threads = r == &one.back() ? 1 : 2;
      std::printf("%-10s %8d %9.3f %9.3f %22.4g %11.2f\n", form.name, threads, r->wall_s, r->cpu_s,
                  lane_steps / r->cpu_s, one.back().wall_s / (threads * r->wall_s));
    }
    same = same && one.back().outcomes == two.back().outcomes;
  }
  write(out, samples, one, two);
  if (same) return 0;
  std::fprintf(stderr, "1 and 2 threads do not give the same bits\n");
  return 1;
}

int growth(const char* cycle) {
  const auto stretches = stretches_of(cycle);
  std::printf("%10s %10s %10s %20s %14s\n", "samples", "wall s", "CPU s", "CPU us per sample",
              "peak RSS MB");
  for (const std::size_t samples : std::array<std::size_t, 3>{1000, 10000, 100000}) {
    const Run r = run(forms.back(), samples, 2, stretches);
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    std::printf("%10zu %10.2f %10.2f %20.1f %14.1f\n", samples, r.wall_s, r.cpu_s,
                1e6 * r.cpu_s / static_cast<double>(samples),
                static_cast<double>(usage.ru_maxrss) / 1024.0);
    std::fflush(stdout);
  }
  return 0;
}

int peak() {
  for (const numerics::LaneWidth width : numerics::lane_widths())
    std::printf("peak %-8s %.4g flop/s\n", std::string(numerics::name(width)).c_str(),
                peak_flop_per_s(width));
  return 0;
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 3 || count > 5) {
    std::fprintf(stderr,
                 "usage: bench_march CYCLE OUT [SAMPLES [REPEATS]]\n"
                 "       bench_march CYCLE growth | peak\n");
    return 2;
  }
  try {
    if (std::string(arguments[2]) == "growth") return growth(arguments[1]);
    if (std::string(arguments[2]) == "peak") return peak();
    const int samples = count > 3 ? std::atoi(arguments[3]) : 2000;
    const int repeats = count > 4 ? std::atoi(arguments[4]) : 3;
    if (samples < 1 || repeats < 1) throw std::runtime_error("SAMPLES and REPEATS: at least 1");
    return compare_threads(arguments[1], arguments[2], static_cast<std::size_t>(samples), repeats);
  } catch (const std::exception& e) {
    std::fprintf(stderr, "%s\n", e.what());
    return 1;
  }
}
