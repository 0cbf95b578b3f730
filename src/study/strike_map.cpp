#include "study/strike_map.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "study/electric.hpp"
#include "study/strike_grid.hpp"

namespace ohmdrag::study {
namespace {

static_assert(credit_us[headline_credit] == headline_credit_us);

/// What a page of text can show.
constexpr std::size_t most_columns = 24;
constexpr std::size_t most_rows = 12;
/// Without duties that warm up nothing says where to look: from a cold morning to hot oil.
constexpr double coldest_degC = -20.0;
constexpr double hottest_degC = 120.0;
constexpr double least_span_K = 10.0;
/// The film is known to some ten per cent: finer than this, a speed at which it lifts says nothing.
constexpr double speed_resolution_rpm = 1.0;
/// A speed or temperature that is a whole number but for rounding belongs above the line.
constexpr double rounding = 1e-6;

/// Time of a duty near one whole degree and one whole turn a minute.
struct Bin {
  double time_s = 0.0;
  double driven_s = 0.0;  ///< with a torque that drives
  double driven_Nms = 0.0;
};

enum Kind : std::size_t { standing, conducting, holding, striking, kinds };

Kind kind_of(const ElectricModel& electric, const ElectricState& now) {
  if (!now.turning) return standing;
  const Time t0 = Time::from_value(headline_credit_us * 1e-6);
  switch (voltage::verdict(electric.verdict_input(now, t0)).regime) {
    case voltage::Regime::conducting:
      return conducting;
    case voltage::Regime::holding:
      return holding;
    case voltage::Regime::striking:
      break;
  }
  return striking;
}

/// One duty as a variant runs through it.
struct Track {
  std::map<std::pair<int, int>, Bin> bins;  ///< by oil temperature and speed; rests left out
  std::array<double, kinds> kind_s{};
  double time_s = 0.0;
  double distance_m = 0.0;

  void add(const ElectricModel& electric, const energy::Stretch& stretch, Temperature oil) {
    const double dt = stretch.dt.value();
    const AngularVelocity speed = stretch.speed[electric.shaft()];
    const Torque torque = stretch.torque[electric.shaft()];
    time_s += dt;
    distance_m += stretch.distance.value();
    kind_s[kind_of(electric, electric.state(speed, oil, torque))] += dt;
    if (speed == AngularVelocity{}) return;
    const auto whole = [](double x) { return static_cast<int>(std::floor(x + rounding)); };
    Bin& bin = bins[{whole(in_celsius(oil)), whole(std::abs(in_rpm(speed)))}];
    bin.time_s += dt;
    if (!(torque > Torque{})) return;
    bin.driven_s += dt;
    bin.driven_Nms += torque.value() * dt;
  }
};

}  // namespace

/// A variant, everything at its middle, and its way through the duties.
class MapLane : public Onlooker {
 public:
  explicit MapLane(const Walker& walker)
      : variant(walker.variant),
        nominal(walker.nominal),
        electric(nominal.model, nominal.variant, nominal.draw),
        tracks(nominal.world->duties.size()) {}

  bool wants(std::size_t) const override { return true; }
  void begin(const DutyModel&, std::size_t duty) override { under_way_ = duty; }
  void see(const energy::Moment& moment) override {
    tracks[under_way_].add(electric, moment.stretch, moment.oil);
  }
  void end(const energy::Ledger&) override {}

  std::size_t variant;
  const Nominal& nominal;
  ElectricModel electric;
  std::vector<Track> tracks;  ///< per duty

 private:
  std::size_t under_way_ = 0;  ///< duty
};

namespace {

using Lanes = std::vector<std::unique_ptr<MapLane>>;

struct Grid {
  Axis oil;    ///< degC
  Axis speed;  ///< rpm
};

/// One grid for all variants, so that their maps can be laid side by side.
std::optional<Grid> grid_of(const Lanes& lanes) {
  double top_rpm = 0.0, low_degC = hottest_degC, high_degC = coldest_degC;
  bool any = false;
  const auto reach = [&](double from_degC, double to_degC, double rpm) {
    low_degC = any ? std::min(low_degC, from_degC) : from_degC;
    high_degC = any ? std::max(high_degC, to_degC) : to_degC;
    top_rpm = std::max(top_rpm, rpm);
    any = true;
  };
  for (const auto& lane : lanes)
    for (const Track& track : lane->tracks)
      for (const auto& [key, bin] : track.bins) reach(key.first, key.first + 1.0, key.second);
  const bool warms = any && high_degC - low_degC >= least_span_K;
  for (const auto& lane : lanes) {
    const Nominal& here = lane->nominal;
    for (const OperatingPoint& point : here.world->points) {
      const double degC = in_celsius(here.draw(point.oil_temperature));
      const AngularVelocity speed = here.model.speeds(point, here.draw).at(lane->electric.shaft());
      reach(degC, degC, std::abs(in_rpm(speed)));
    }
  }
  if (!(top_rpm > 0.0)) return std::nullopt;
  if (!warms) reach(coldest_degC, hottest_degC, top_rpm);
  return Grid{axis(low_degC, high_degC, most_rows), axis(0.0, top_rpm, most_columns)};
}

/// What a second of each duty weighs in the service mix; the weights of all seconds add up to 1.
std::vector<double> weights(const ServiceMix& mix, const std::vector<Track>& tracks) {
  std::vector<double> result(tracks.size(), 0.0);
  double sum = 0.0;
  for (std::size_t d = 0; d < tracks.size(); ++d) {
    const double once = mix.driven ? tracks[d].distance_m : tracks[d].time_s;
    if (!(mix.share[d] > 0.0 && once > 0.0)) continue;
    result[d] = mix.share[d] / once;
    sum += result[d] * tracks[d].time_s;
  }
  if (sum > 0.0)
    for (double& weight : result) weight /= sum;
  return result;
}

/// Sums of many small shares end a little beside 0 or 1; this takes the rounding away.
double share(double sum) { return std::round(sum * 1e12) / 1e12; }

/// The mean over the time in which a torque drives the shaft, of each column; zero where none does.
std::vector<double> torques_Nm(const Grid& grid, const std::vector<Track>& tracks,
                               const std::vector<double>& weight) {
  std::vector<double> time(grid.speed.cells, 0.0), sum(grid.speed.cells, 0.0);
  for (std::size_t d = 0; d < tracks.size(); ++d)
    for (const auto& [key, bin] : tracks[d].bins) {
      const std::size_t column = grid.speed.index(key.second);
      time[column] += weight[d] * bin.driven_s;
      sum[column] += weight[d] * bin.driven_Nms;
    }
  for (std::size_t c = 0; c < sum.size(); ++c) sum[c] = time[c] > 0.0 ? sum[c] / time[c] : 0.0;
  return sum;
}

void add_times(const Grid& grid, const Case& world, const std::vector<Track>& tracks,
               const std::vector<double>& weight, StrikeMap& map) {
  for (std::size_t d = 0; d < tracks.size(); ++d) {
    const Track& track = tracks[d];
    DutyTime row{world.duties[d].id,
                 std::vector(grid.oil.cells, std::vector<double>(grid.speed.cells, 0.0))};
    for (const auto& [key, bin] : track.bins) {
      const std::size_t r = grid.oil.index(key.first), c = grid.speed.index(key.second);
      row.time_share[r][c] += bin.time_s / track.time_s;
      map.cells[r][c].time_share += weight[d] * bin.time_s;
    }
    for (auto& shares : row.time_share)
      for (double& cell : shares) cell = share(cell);
    map.duties.push_back(std::move(row));
    map.standstill_time_share += weight[d] * track.kind_s[standing];
    map.conducting_time_share += weight[d] * track.kind_s[conducting];
    map.holding_time_share += weight[d] * track.kind_s[holding];
    map.striking_time_share += weight[d] * track.kind_s[striking];
  }
  for (auto& row : map.cells)
    for (StrikeCell& cell : row) cell.time_share = share(cell.time_share);
  for (double* sum : {&map.standstill_time_share, &map.conducting_time_share,
                      &map.holding_time_share, &map.striking_time_share})
    *sum = share(*sum);
}

StrikeCell cell_at(const ElectricModel& electric, const voltage::ThresholdBand& fixed,
                   const ElectricState& now) {
  StrikeCell cell;
  voltage::VerdictInput input =
      electric.verdict_input(now, Time::from_value(headline_credit_us * 1e-6));
  const voltage::VerdictResult headline = voltage::verdict(input);
  cell.regime = to_word(headline.regime);
  cell.verdict = to_word(headline.headline);
  cell.held_V = input.held.voltage.value();
  cell.edge_V = input.edge.voltage.value();
  if (headline.regime != voltage::Regime::conducting)
    cell.threshold_V = Interval{input.threshold.at_05.value(), input.threshold.at_50.value(),
                                input.threshold.at_95.value()};
  // The film decides where it insulates, the fixed band how much it then holds.
  voltage::VerdictInput by_fixed = input;
  by_fixed.threshold = fixed;
  cell.by_fixed_threshold = to_word(voltage::verdict(by_fixed).headline);
  input.t0 = Time{};
  cell.without_credit = to_word(voltage::verdict(input).headline);
  cell.film_ratio = not_a_figure;
  for (const bearing::FilmState& film : now.films)
    if (!(cell.film_ratio <= film.film_ratio)) cell.film_ratio = film.film_ratio;
  return cell;
}

/// Between the fastest column that conducts and the next; the torque runs linearly between them.
std::optional<double> conducting_below(const ElectricModel& electric, const StrikeMap& map,
                                       double degC, const std::vector<StrikeCell>& row) {
  const std::string word(to_word(voltage::Regime::conducting));
  const auto fastest =
      std::find_if(row.rbegin(), row.rend(), [&](const auto& c) { return c.regime == word; });
  const auto above = static_cast<std::size_t>(row.rend() - fastest);  // first that insulates
  if (above == row.size()) return std::nullopt;
  double low = above == 0 ? 0.0 : map.shaft_speed_rpm[above - 1];
  double high = map.shaft_speed_rpm[above];
  const double from = low, span = high - low, to_Nm = map.torque_Nm[above];
  const double from_Nm = above == 0 ? to_Nm : map.torque_Nm[above - 1];
  while (high - low > speed_resolution_rpm) {
    const double rpm = 0.5 * (low + high);
    const double Nm = from_Nm + (rpm - from) / span * (to_Nm - from_Nm);
    const auto now = electric.state(from_rpm(rpm), from_celsius(degC), Torque::from_value(Nm));
    (now.conducting ? low : high) = rpm;
  }
  return low > 0.0 ? 0.5 * (low + high) : 0.0;
}

StrikeMap map_of(const MapLane& lane, const Grid& grid, const ServiceMix& mix) {
  const ElectricModel& electric = lane.electric;
  const voltage::ThresholdBand band = band_of(lane.nominal.world->discharge.fixed_threshold);

  StrikeMap map;
  map.fixed_threshold_V = {band.at_05.value(), band.at_50.value(), band.at_95.value()};
  const std::vector<double> weight = weights(mix, lane.tracks);
  map.torque_Nm = torques_Nm(grid, lane.tracks, weight);
  for (std::size_t c = 0; c < grid.speed.cells; ++c)
    map.shaft_speed_rpm.push_back(grid.speed.middle(c));
  for (std::size_t r = 0; r < grid.oil.cells; ++r) {
    const double degC = grid.oil.middle(r);
    map.oil_degC.push_back(degC);
    std::vector<StrikeCell> row;
    for (std::size_t c = 0; c < grid.speed.cells; ++c)
      row.push_back(cell_at(electric, band,
                            electric.state(from_rpm(map.shaft_speed_rpm[c]), from_celsius(degC),
                                           Torque::from_value(map.torque_Nm[c]))));
    map.conducting_below_rpm.push_back(conducting_below(electric, map, degC, row));
    map.cells.push_back(std::move(row));
  }
  add_times(grid, *lane.nominal.world, lane.tracks, weight, map);
  return map;
}

}  // namespace

StrikeMaps::StrikeMaps() = default;
StrikeMaps::~StrikeMaps() = default;

void StrikeMaps::join(Walker& walker) {
  walker.onlookers.push_back(lanes_.emplace_back(std::make_unique<MapLane>(walker)).get());
}

void StrikeMaps::fill(const ServiceMix& mix, std::vector<VariantFindings>& findings) const {
  const auto grid = grid_of(lanes_);
  if (!grid) return;
  for (const auto& lane : lanes_) findings.at(lane->variant).strike_map = map_of(*lane, *grid, mix);
}

}  // namespace ohmdrag::study
