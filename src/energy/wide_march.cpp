#include "ohmdrag/energy/wide_march.hpp"

#include <oneapi/tbb/enumerable_thread_specific.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "energy/settled_table.hpp"

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

WideGrid wide_grid(const component::SpeedGrid& grid) {
  WideGrid wide{
      .solved_rad_s = grid.solved_rad_s(false), .nodes = grid.nodes(), .node_of_solved = {}};
  wide.solved_rad_s.insert(wide.solved_rad_s.begin(), 0.0);
  const std::size_t solved = wide.solved_rad_s.size();
  wide.node_of_solved.assign(wide.nodes * solved, 0.0);
  wide.node_of_solved[0] = 1.0;
  for (const component::SpeedGrid::Spread& spread : grid.spreads(false))
    for (std::size_t n = 0; n < spread.nodes; ++n)
      for (std::size_t s = 0; s < spread.solved; ++s)
        wide.node_of_solved[(spread.first_node + n) * solved + 1 + spread.first_solved + s] =
            !spread.weights.empty() ? spread.weights[n * spread.solved + s]
            : n == s                ? 1.0
                                    : 0.0;
  return wide;
}

WideDuty wide_duty(std::span<const Stretch> stretches, std::size_t phases, const SumpDuty& sump) {
  component::SpeedRange speeds;
  for (const Stretch& stretch : stretches)
    if (!stretch.parked) speeds.add(stretch.speed.front());
  const component::SpeedGrid grid(speeds);
  WideDuty duty{.steps = {}, .buckets = 3 * phases, .grid = wide_grid(grid)};
  for (const Stretch& stretch : stretches) {
    WideStep step{duty_step(stretch, sump.air), 0.0, {}};
    if (!stretch.parked) {
      step.place = grid.place(stretch.speed.front());
      step.omega_rad_s = step.place.speed_rad_s;
    }
    duty.steps.push_back(step);
  }
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

WideSump sump_of(const Block& block, const WideDuty& duty, std::size_t contacts,
                 const SumpDuty& first) {
  WideSump sump;
  sump.contact_J = LaneRows(duty.buckets * contacts);
  double largest_share = 0.0;
  for (const WideStep& step : duty.steps) largest_share = std::max(largest_share, step.air_share);
  for (std::size_t i = 0; i < lanes; ++i) {
    const SumpDuty& from = block.sumps[std::min(i, block.sumps.size() - 1)];
    if (!same_air(from, first))
      throw std::invalid_argument(
          "wide march: reference speed and exponent of the air stream must be the same");
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
  const WideDuty steps = wide_duty(duty, phases, first.sump);
  oneapi::tbb::enumerable_thread_specific<TableRoom> rooms;
  oneapi::tbb::parallel_for(std::size_t{0}, (samples + lanes - 1) / lanes, [&](std::size_t b) {
    const std::size_t from = b * lanes;
    const std::size_t count = std::min(lanes, samples - from);
    Block block = block_of(from, count, sample);
    WideSump sump = sump_of(block, steps, ledger.contacts, first.sump);
    component::WideShaft shafts(std::move(block.shafts), settings.width);
    if (shafts.contacts() != ledger.contacts)
      throw std::invalid_argument("wide march: the samples' shafts must be of one shape");
    shafts.set_dry(block.dry_K.data());
    const WideEffort effort =
        settings.form == WideForm::solved
            ? march_solved(shafts, sump, steps, settings.width)
            : march_tabulated(shafts, sump, steps, settings.width, rooms.local());
    solves += effort.solves;
    evaluations += effort.evaluations;
    for (std::size_t row = 0; row < sump.contact_J.rows(); ++row)
      std::copy_n(sump.contact_J[row], count, ledger.contact_J.data() + row * samples + from);
    std::copy_n(sump.oil_K[0], count, ledger.oil_at_end_K.data() + from);
    std::copy_n(sump.into_sump_J[0], count, ledger.into_sump_J.data() + from);
  });
  ledger.effort = {.solves = solves, .evaluations = evaluations};
  return ledger;
}

}  // namespace ohmdrag::energy
