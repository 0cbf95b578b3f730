// How long the electrical side takes: one operating point with everything that is shown of it, a
// whole cycle of operating points one after another, and single calls of what they are made of.
//
//   bench_shaft_voltage CASE
//
// Medians over repeats. Every repeat does the same work, by the functions and in the order in which
// the product does it, and must give the same answer; the cycle must strike for the same share of
// its time as in the product, else the program says so and ends with 1. The times are a table for
// people: they fail nothing, as the machine may be busy.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <exception>
#include <stdexcept>
#include <vector>

#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/voltage/held_voltage.hpp"
#include "study/ensemble.hpp"
#include "study/service_history.hpp"
#include "study/unit_samples.hpp"
#include "study/voltage_rows.hpp"

namespace {

using namespace ohmdrag;

struct Timed {
  double median_ms = 0.0;
  double answer = 0.0;
};

/// \param work  returns a figure that must be the same each time
template <class Work>
Timed median(int repeats, const Work& work) {
  std::vector<double> took_ms;
  double answer = 0.0;
  for (int i = 0; i < repeats; ++i) {
    const auto start = std::chrono::steady_clock::now();
    const double here = work();
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    if (i > 0 && here != answer) throw std::runtime_error("a repeat gave another answer");
    answer = here;
    took_ms.push_back(took.count());
  }
  std::ranges::nth_element(took_ms, took_ms.begin() + repeats / 2);
  return {took_ms[static_cast<std::size_t>(repeats / 2)], answer};
}

void row(const char* what, const Timed& timed, const char* answer, const char* goal = "") {
  std::printf("  %-52s %10.4f  %-8s %s %.9g\n", what, timed.median_ms, goal, answer, timed.answer);
}

/// A variant of the nominal case, as the product builds it.
struct Built {
  Built(const study::Case& question, const study::Variant& entry,
        const study::ServiceHistory& history)
      : model(study::world_of(question, entry), draw),
        variant(model, entry, draw, history),
        electric(model, variant, draw) {}

  study::Draw draw;
  study::WorldModel model;
  study::VariantModel variant;
  study::ElectricModel electric;
};

/// Films, node, edges with ringing, held, rates and bands; verdicts over the credits; the course of
/// a carrier period and its spectrum to 100 MHz.
double everything_at(const Built& built, const study::OperatingPoint& point) {
  const study::ElectricSample sample = built.electric.at(point, built.draw);
  const std::size_t shaft = built.electric.shaft();
  const study::ElectricState now = built.electric.state(
      built.model.speeds(point, built.draw)[shaft], built.draw(point.oil_temperature),
      built.model.torques(point, built.draw)[shaft]);
  study::VoltageRow shown;
  study::add_detail(built.electric, now, shown);
  double sum = sample.peak_V + sample.held_V + sample.discharge_rate_per_s;
  for (const voltage::CreditRow& credit :
       voltage::verdicts_by_credit(built.electric.verdict_input(now, Time{})))
    sum += static_cast<double>(credit.result.headline);
  for (const double dB : sample.reduction_dB) sum += dB;
  for (const auto& bin : shown.spectrum) sum += bin.with_V;
  return sum;
}

/// What a cycle counts of discharges at all places together.
struct Strikes {
  double time_share = 0.0;
  double per_s = 0.0;

  bool operator==(const Strikes&) const = default;
};

Strikes strikes_of(const std::vector<study::BearingSample>& places, double time_s) {
  Strikes sum;
  for (const study::BearingSample& place : places) {
    sum.time_share += place.striking_s / time_s;
    sum.per_s += place.discharges / time_s;
  }
  return sum;
}

/// One operating point a stretch: films, node, stresses, verdicts, rates.
Strikes strikes_over(const Built& built, const study::DutyModel& duty) {
  std::vector<study::BearingSample> places(built.model.bearings.size() +
                                           built.model.other_paths.size());
  study::ElectricState scratch;
  double time_s = 0.0;
  for (const energy::Stretch& stretch : duty.stretches) {
    built.electric.accumulate(stretch, duty.sump.start, scratch, places);
    time_s += stretch.dt.value();
  }
  return strikes_of(places, time_s);
}

/// The same out of the product's own march, losses and all.
Strikes strikes_of_product(const Built& built, const study::DutyModel& duty) {
  const study::DutySample sample =
      study::duty_sample(built.model, built.variant, duty, &built.electric);
  return strikes_of(sample.bearings, sample.time_s());
}

/// A cycle whose oil stays as it is, so that the electrical side can run without the warm-up.
const study::Duty& held_duty(const study::Case& question) {
  for (const study::Duty& duty : question.duties)
    if (duty.oil_temperature && duty.trips.empty()) return duty;
  throw std::runtime_error("no duty of the case holds its oil temperature");
}

bool cycle_rows(const study::Case& question, const study::Variant& entry,
                const study::ServiceHistory& history, const Built& built) {
  const study::Duty& duty = held_duty(question);
  const study::DutyModel ready = study::duty_model(built.model, duty, built.draw);
  const Timed with_models = median(15, [&] {
    const Built fresh(question, entry, history);
    return strikes_over(fresh, study::duty_model(fresh.model, duty, fresh.draw)).time_share;
  });
  const Timed alone = median(15, [&] { return strikes_over(built, ready).time_share; });
  std::printf(" %s, %zu operating points one after another\n", duty.id.c_str(),
              ready.stretches.size());
  row("with building the models", with_models, "strikes for a share of", "< 1000");
  row("without", alone, "strikes for a share of", "< 1000");
  const Strikes here = strikes_over(built, ready), product = strikes_of_product(built, ready);
  const bool same = here == product && with_models.answer == product.time_share &&
                    alone.answer == product.time_share;
  std::printf("  %s in the product: a share of %.9g, %.9g a second\n",
              same ? "the same" : "NOT THE SAME", product.time_share, product.per_s);
  return same;
}

void single_rows(const Built& built, const study::OperatingPoint& point) {
  const std::size_t shaft = built.electric.shaft();
  const AngularVelocity speed = built.model.speeds(point, built.draw)[shaft];
  const study::ElectricState now = built.electric.state(
      speed, built.draw(point.oil_temperature), built.model.torques(point, built.draw)[shaft]);
  const voltage::MaybePath path = built.electric.path(speed);
  const study::SourceModel& model = built.electric.source();
  const voltage::InverterSource& source = model.source();
  const voltage::Carrier carrier = model.carrier(now.modulation);
  const Voltage step = voltage::edge_step(source.dc_link, 1);
  const Time until = voltage::hold_duration(source.carrier);
  row("held after a discharge",
      median(201, [&] { return voltage::held_after_discharge(now.node, path, carrier).value(); }),
      "V");
  row("held", median(201, [&] { return voltage::held_voltage(now.node, path, carrier).value(); }),
      "V");
  row("edge",
      median(
          201,
          [&] {
            return voltage::edge_stress(now.node, path, step, source.rise, until).voltage.value();
          }),
      "V");
  if (source.ringing)
    row("edge with ringing",
        median(201,
               [&] {
                 return voltage::edge_stress_with_ringing(now.node, path, step, source.rise,
                                                          *source.ringing, until)
                     .voltage.value();
               }),
        "V");
}

bool variant_rows(const study::Case& question, const study::Variant& entry) {
  std::printf("%s\n", entry.id.c_str());
  const study::ServiceHistory history =
      study::service_history(question, study::world_of(question, entry), entry);
  const Built built(question, entry, history);
  if (!built.electric.path({}) && entry.id != question.baseline) {
    std::printf(" no path is left at the end of its service: as %s\n", question.baseline.c_str());
    return true;
  }
  const study::OperatingPoint& point = question.points.front();
  std::printf(" at %s\n", point.id.c_str());
  row("one operating point with everything",
      median(51, [&] { return everything_at(built, point); }), "sum of its figures", "< 5");
  single_rows(built, point);
  return cycle_rows(question, entry, history, built);
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 2) {
    std::fprintf(stderr, "usage: bench_shaft_voltage CASE\n");
    return 2;
  }
  try {
    const study::Case question = input::load_case(arguments[1]);
    std::printf("%-54s %10s  %-8s\n", "", "median ms", "goal ms");
    bool same = true;
    for (const study::Variant& entry : question.variants)
      same = variant_rows(question, entry) && same;
    return same ? 0 : 1;
  } catch (const std::exception& e) {
    std::fprintf(stderr, "%s\n", e.what());
    return 1;
  }
}
