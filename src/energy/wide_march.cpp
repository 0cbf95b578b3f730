#include "ohmdrag/energy/wide_march.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "energy/wide_block.hpp"

namespace ohmdrag::energy {

using numerics::LaneRows;
using numerics::lanes;

namespace {

/// The duty of the one shaft that the samples are.
std::vector<Stretch> of_shaft(std::span<const Stretch> stretches, std::size_t shaft,
                              std::size_t phases) {
  std::vector<Stretch> duty;
  duty.reserve(stretches.size());
  for (const Stretch& stretch : stretches) {
    if (!stretch.dry.empty())
      throw std::invalid_argument("wide march: no stretch may have a dry side of its own");
    Stretch& of_one = duty.emplace_back(stretch);
    if (stretch.parked) continue;
    if (stretch.phase >= phases || shaft >= stretch.speed.size())
      throw std::invalid_argument("wide march: a stretch names no such phase or shaft");
    of_one.speed = {stretch.speed[shaft]};
    of_one.torque = {Torque{}};
  }
  return duty;
}

WideDuty wide_duty(std::span<const Stretch> stretches, std::size_t phases, const SumpDuty& sump) {
  WideDuty duty{.steps = {}, .buckets = 3 * phases};
  for (const Stretch& stretch : stretches)
    duty.steps.push_back({duty_step(stretch, sump.air),
                          stretch.parked ? 0.0 : std::abs(stretch.speed.front().value())});
  return duty;
}

bool same_air(const SumpDuty& a, const SumpDuty& b) {
  if (!a.air || !b.air) return a.air.has_value() == b.air.has_value();
  return a.air->at == b.air->at && a.air->exponent == b.air->exponent;
}

void check(const SumpDuty& sump) {
  // As duty::temperature_after and conductance_at.
  const bool added = !sump.air || sump.air->added >= ThermalConductance{};
  if (!(sump.node.heat_capacity > HeatCapacity{} && sump.node.conductance >= ThermalConductance{} &&
        added))
    throw std::invalid_argument("sump: heat capacity must be positive, conductances not negative");
  if (!(sump.start.value() > 0.0))
    throw std::invalid_argument("sump: its start must be above absolute zero");
}

struct Block {
  std::vector<component::ShaftSystem> shafts;
  std::vector<SumpDuty> sumps;
  std::array<double, lanes> dry_K;
};

Block block_of(std::size_t first, std::size_t count,
               const std::function<WideSample(std::size_t)>& sample) {
  Block block;
  block.shafts.reserve(count);
  block.sumps.reserve(count);
  for (std::size_t lane = 0; lane < count; ++lane) {
    WideSample here = sample(first + lane);
    check(here.sump);
    if (!(here.dry.value() > 0.0))
      throw std::invalid_argument("wide march: the dry side must be above absolute zero");
    block.shafts.push_back(std::move(here.shaft));
    block.sumps.push_back(here.sump);
    block.dry_K[lane] = here.dry.value();
  }
  std::fill(block.dry_K.begin() + static_cast<std::ptrdiff_t>(count), block.dry_K.end(),
            block.dry_K[count - 1]);
  return block;
}

WideSump sump_of(const Block& block, const WideDuty& duty, std::size_t contacts) {
  WideSump sump;
  sump.contact_J = LaneRows(duty.buckets * contacts);
  double largest_share = 0.0;
  for (const WideStep& step : duty.steps) largest_share = std::max(largest_share, step.air_share);
  for (std::size_t i = 0; i < lanes; ++i) {
    const SumpDuty& from = block.sumps[std::min(i, block.sumps.size() - 1)];
    sump.oil_K[0][i] = from.start.value();
    sump.per_capacity_K_J[0][i] = 1.0 / from.node.heat_capacity.value();
    sump.conductance_W_K[0][i] = from.node.conductance.value();
    sump.air_W_K[0][i] = from.air ? from.air->added.value() : 0.0;
    sump.ambient_K[0][i] = from.node.ambient.value();
    sump.other_heat_W[0][i] = from.other_heat.value();
    sump.moves[0][i] = from.held ? 0.0 : 1.0;
    sump.fastest_per_s = std::max(
        sump.fastest_per_s, (sump.conductance_W_K[0][i] + largest_share * sump.air_W_K[0][i]) *
                                sump.per_capacity_K_J[0][i]);
  }
  return sump;
}

/// Marches a block of samples one by one out of their tables.
class TabulatedMarch {
 public:
  TabulatedMarch(std::span<const Stretch> duty, std::size_t phases, const WideSample& first,
                 numerics::LaneWidth width)
      : duty_(duty), phases_(phases), width_(width), speeds_(1), sump_(first.sump) {
    add_speeds(duty, speeds_);
    grids_ = {component::SpeedGrid(first.shaft, speeds_.front())};
    columns_.stretches = std::make_shared<const PlacedStretches>(duty, grids_, sump_);
  }

  /// \param ledger  receives the sample's results
  WideEffort operator()(const Block& block, std::size_t lane, std::size_t sample,
                        WideLedger& ledger, std::vector<double>& oil_K) const {
    DriveUnit unit{.shafts = {block.shafts[lane]}, .parts = {}};
    for (std::size_t c = 0; c < ledger.contacts; ++c) unit.parts.push_back({{}, ContactPart{0, c}});
    // Laws that bend place their speeds elsewhere.
    const std::vector<component::SpeedGrid> own = speed_grids(unit, speeds_);
    const bool shared = own.front().same_as(grids_.front());
    DutyColumns columns = columns_;
    if (!shared) columns.stretches = std::make_shared<const PlacedStretches>(duty_, own, sump_);
    QuickMarch march(unit, shared ? grids_ : own, {Temperature::from_value(block.dry_K[lane])},
                     width_);
    const Ledger found = march(duty_, columns, phases_, block.sumps[lane], oil_K);
    for (std::size_t phase = 0; phase < phases_; ++phase)
      for (std::size_t drive = 0; drive < 3; ++drive)
        for (std::size_t c = 0; c < ledger.contacts; ++c)
          ledger.contact_J[((phase * 3 + drive) * ledger.contacts + c) * ledger.samples + sample] =
              found.phases[phase].by_part[c][drive].value();
    ledger.oil_at_end_K[sample] = found.oil_at_end.value();
    ledger.into_sump_J[sample] = found.into_sump.value();
    return {.solves = march.solves(), .evaluations = march.evaluations()};
  }

 private:
  std::span<const Stretch> duty_;
  std::size_t phases_;
  numerics::LaneWidth width_;
  std::vector<component::SpeedRange> speeds_;
  SumpDuty sump_;
  std::vector<component::SpeedGrid> grids_;
  DutyColumns columns_;
};

/// Marches a block of samples side by side with every stretch solved.
WideEffort march_block(Block block, std::size_t from, const WideDuty& duty,
                       numerics::LaneWidth width, WideLedger& ledger) {
  const std::size_t count = block.shafts.size();
  WideSump sump = sump_of(block, duty, ledger.contacts);
  component::WideShaft shafts(std::move(block.shafts), width);
  shafts.set_dry(block.dry_K.data());
  const WideEffort effort = march_solved(shafts, sump, duty, width);
  for (std::size_t row = 0; row < sump.contact_J.rows(); ++row)
    std::copy_n(sump.contact_J[row], count, ledger.contact_J.data() + row * ledger.samples + from);
  std::copy_n(sump.oil_K[0], count, ledger.oil_at_end_K.data() + from);
  std::copy_n(sump.into_sump_J[0], count, ledger.into_sump_J.data() + from);
  return effort;
}

}  // namespace

double WideLedger::whole_J(std::size_t contact, std::size_t sample) const {
  double sum = 0.0;
  for (std::size_t row = contact; row * samples < contact_J.size(); row += contacts)
    sum += contact_J[row * samples + sample];
  return sum;
}

WideLedger wide_march(std::size_t samples, const std::function<WideSample(std::size_t)>& sample,
                      std::span<const Stretch> stretches, std::size_t shaft, std::size_t phases,
                      const WideMarchSettings& settings) {
  if (samples == 0) throw std::invalid_argument("wide march: needs at least one sample");
  if (phases == 0) throw std::invalid_argument("march: a duty has at least one phase");
  const WideSample first = sample(0);
  const std::vector<Stretch> duty = of_shaft(stretches, shaft, phases);

  WideLedger ledger;
  ledger.samples = samples;
  ledger.contacts = first.shaft.contacts.size();
  ledger.contact_J.resize(3 * phases * ledger.contacts * samples);
  ledger.oil_at_end_K.resize(samples);
  ledger.into_sump_J.resize(samples);
  std::atomic<std::size_t> solves = 0, evaluations = 0;
  const auto count = [&](const WideEffort& effort) {
    solves += effort.solves;
    evaluations += effort.evaluations;
  };
  const bool tabulated = settings.form == WideForm::tabulated;
  std::optional<TabulatedMarch> by_tables;
  if (tabulated) by_tables.emplace(duty, phases, first, settings.width);
  const WideDuty steps = tabulated ? WideDuty{} : wide_duty(duty, phases, first.sump);
  oneapi::tbb::parallel_for(std::size_t{0}, (samples + lanes - 1) / lanes, [&](std::size_t b) {
    const std::size_t from = b * lanes;
    Block block = block_of(from, std::min(lanes, samples - from), sample);
    for (std::size_t lane = 0; lane < block.shafts.size(); ++lane)
      if (block.shafts[lane].contacts.size() != ledger.contacts ||
          !same_air(block.sumps[lane], first.sump))
        throw std::invalid_argument(
            "wide march: number of contacts, reference speed and exponent of the air stream must "
            "be the same for all samples");
    if (!tabulated) {
      count(march_block(std::move(block), from, steps, settings.width, ledger));
      return;
    }
    std::vector<double> oil_K;
    for (std::size_t lane = 0; lane < block.shafts.size(); ++lane)
      count((*by_tables)(block, lane, from + lane, ledger, oil_K));
  });
  ledger.effort = {.solves = solves, .evaluations = evaluations};
  return ledger;
}

}  // namespace ohmdrag::energy
