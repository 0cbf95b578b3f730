#include "ohmdrag/study/draws.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/uniform_int_distribution.hpp>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <string_view>

#include "ohmdrag/numerics/joint_normal.hpp"
#include "ohmdrag/numerics/quasi_random.hpp"

namespace ohmdrag::study {
namespace {

constexpr std::string_view scatter_suffix = "#scatter";

/// FNV-1a, 64 bit: std::hash may differ between libraries, and the same input must give the same
/// bytes everywhere.
unsigned long long stable_hash(std::string_view text) {
  unsigned long long hash = 14695981039346656037ULL;
  for (const char c : text) {
    hash ^= static_cast<unsigned char>(c);
    hash *= 1099511628211ULL;
  }
  return hash;
}

/// The seed of a block; the first block is that of the ensemble itself.
unsigned long long block_seed(unsigned long long seed, std::uint64_t block) {
  return block == 0 ? seed : seed ^ stable_hash("block " + std::to_string(block));
}

/// In (0, 1), to the last bit the same everywhere.
double unit_share(boost::random::mt19937_64& engine) {
  return (static_cast<double>(engine() >> 12) + 0.5) * 0x1p-52;
}

/// Places of the values in rising order; equal ones in the order in which they stand.
std::vector<std::size_t> ranks_of(std::span<const double> values) {
  std::vector<std::size_t> order(values.size()), ranks(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return values[i]; });
  for (std::size_t place = 0; place < order.size(); ++place) ranks[order[place]] = place;
  return ranks;
}

double width_of(const Distribution& distribution) {
  if (distribution.shape == Shape::log_normal) return distribution.half_width;
  return distribution.mid != 0.0 ? distribution.half_width / std::abs(distribution.mid) : 1.0;
}

/// The place in (0, 1) of a value so far off the median, on the scale on which the distribution is
/// symmetric; the outermost there is where it does not reach so far.
double share_off_median(const Distribution& distribution, double off) {
  const double median = distribution.quantile(0.5);
  const double value =
      distribution.shape == Shape::log_normal ? median * std::exp(off) : median + off;
  constexpr double outermost = 1e-6;
  return std::clamp(distribution.share_below(value), outermost, 1.0 - outermost);
}

}  // namespace

Correlation correlation_among(const Correlation& all,
                              const std::function<bool(const std::string& key)>& kept) {
  Correlation out;
  out.of_scatter = all.of_scatter;
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < all.keys.size(); ++i)
    if (kept(all.keys[i])) places.push_back(i);
  for (const std::size_t i : places) {
    out.keys.push_back(all.keys[i]);
    for (const std::size_t j : places) out.matrix.push_back(all.matrix.at(i * all.keys.size() + j));
  }
  return out;
}

Draws::Draws(std::span<const UncertainNumber* const> numbers, unsigned long long seed,
             std::span<const Correlation> correlations)
    : seed_(seed) {
  name_columns(numbers);
  for (const Correlation& all : correlations) {
    const auto drawn = [&](const std::string& key) {
      const auto found = std::ranges::find(drawn_, key, &UncertainNumber::key);
      return found != drawn_.end() &&
             (all.of_scatter ? (*found)->scatter : (*found)->spread).shape != Shape::exact;
    };
    Correlation among = correlation_among(all, drawn);
    if (among.keys.size() > 1) correlations_.push_back(std::move(among));
  }
}

void Draws::name_columns(std::span<const UncertainNumber* const> numbers) {
  for (const UncertainNumber* number : numbers) {
    if (number->certain()) continue;
    const auto [found, is_new] = index_.emplace(number->key, columns_.size());
    index_at_.emplace(number, found->second);
    if (!is_new) continue;
    columns_.emplace_back();
    drawn_.push_back(number);
  }
}

Draws::Draws(std::span<const UncertainNumber* const> numbers, int samples, unsigned long long seed,
             std::span<const Correlation> correlations)
    : Draws(numbers, seed, correlations) {
  if (samples < 1) throw std::invalid_argument("an ensemble needs at least one sample");
  block_ = samples;
  if (samples >= fewest_quasi_random) rank_leading();
  add_block();
}

void Draws::add_block() {
  const auto count = static_cast<std::size_t>(block_);
  extend(Which::spread, count, blocks_);
  extend(Which::scatter, count, blocks_);
  ++blocks_;
  samples_ += block_;
}

Draws Draws::parts_of_states(std::span<const UncertainNumber* const> numbers, int states, int parts,
                             unsigned long long seed, std::span<const Correlation> correlations) {
  if (states < 1 || parts < 1) throw std::invalid_argument("parts of states: at least one of each");
  Draws out(numbers, seed, correlations);
  out.samples_ = out.block_ = states * parts;
  out.extend(Which::spread, static_cast<std::size_t>(states), 0);
  for (Column& column : out.columns_) {
    std::vector<double> repeated;
    for (const double share : column.spread)
      repeated.insert(repeated.end(), static_cast<std::size_t>(parts), share);
    column.spread = std::move(repeated);
  }
  // Block 0 is that of the states.
  for (int state = 0; state < states; ++state)
    out.extend(Which::scatter, static_cast<std::size_t>(parts),
               static_cast<std::uint64_t>(state) + 1);
  return out;
}

Draws Draws::independent_parts(std::span<const UncertainNumber* const> numbers, int parts,
                               unsigned long long seed, std::span<const Correlation> correlations) {
  if (parts < 1) throw std::invalid_argument("independent parts: at least one");
  Draws out(numbers, seed, correlations);
  out.samples_ = out.block_ = parts;
  out.extend_independently(static_cast<std::size_t>(parts));
  return out;
}

Draws Draws::one_at_a_time(std::span<const UncertainNumber* const> numbers) {
  Draws out(numbers, 0ULL, std::span<const Correlation>());
  const std::vector<Input> inputs = out.inputs();
  out.samples_ = out.block_ = static_cast<int>(2 * inputs.size() + 1);
  const auto count = static_cast<std::size_t>(out.samples_);
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    const auto& [number, scatter] = inputs[i];
    Column& column = out.column_of(number->key);
    std::vector<double>& shares = scatter ? column.scatter : column.spread;
    shares.assign(count, 0.5);
    const Distribution& distribution = scatter ? number->scatter : number->spread;
    const double deviation = distribution.standard_deviation();
    shares[2 * i + 1] = share_off_median(distribution, -deviation);
    shares[2 * i + 2] = share_off_median(distribution, deviation);
  }
  return out;
}

void Draws::rank_leading() {
  std::vector<std::pair<double, std::string>> widest;
  for (const auto& [number, scatter] : inputs()) {
    const Distribution& distribution = scatter ? number->scatter : number->spread;
    // Scatter is added around the value; a factor has its width in itself.
    const double over = scatter && distribution.shape != Shape::log_normal && number->mid() != 0.0
                            ? distribution.half_width / std::abs(number->mid())
                            : width_of(distribution);
    widest.emplace_back(-std::floor(std::log2(std::max(over, 1e-12))),
                        number->key + std::string(scatter ? scatter_suffix : ""));
  }
  std::ranges::sort(widest);
  for (std::size_t d = 0; d < std::min(leading, widest.size()); ++d)
    dimension_.emplace(widest[d].second, d);
}

std::vector<double> Draws::strata(const std::string& name, std::size_t count,
                                  std::uint64_t block) const {
  const unsigned long long seed = block_seed(seed_, block);
  double place = 0.5;
  // Boost's engine and distribution, unlike std::shuffle, are specified to the last bit.
  boost::random::mt19937_64 engine(seed ^ stable_hash(name));
  if (block > 0) place = unit_share(engine);
  const auto n = static_cast<double>(count);
  std::vector<double> column(count);
  const auto leads = dimension_.find(name);
  if (leads != dimension_.end()) {
    const numerics::QuasiRandom points(leading, seed);
    for (std::size_t i = 0; i < count; ++i) column[i] = points.value(leads->second, i);
    const std::vector<std::size_t> ranks = ranks_of(column);
    for (std::size_t i = 0; i < count; ++i) column[i] = (static_cast<double>(ranks[i]) + place) / n;
    return column;
  }
  for (std::size_t i = 0; i < count; ++i) column[i] = (static_cast<double>(i) + place) / n;
  for (std::size_t i = count; i > 1; --i) {
    const auto j = boost::random::uniform_int_distribution<std::size_t>(0, i - 1)(engine);
    std::swap(column[i - 1], column[j]);
  }
  return column;
}

void Draws::extend(Which which, std::size_t count, std::uint64_t block) {
  const bool scatter = which == Which::scatter;
  std::size_t from = 0;
  std::vector<std::pair<std::string, std::vector<double>*>> columns;
  for (const UncertainNumber* number : drawn_) {
    if ((scatter ? number->scatter : number->spread).shape == Shape::exact) continue;
    Column& column = column_of(number->key);
    std::vector<double>& shares = scatter ? column.scatter : column.spread;
    from = shares.size();
    columns.emplace_back(number->key + std::string(scatter ? scatter_suffix : ""), &shares);
  }
  oneapi::tbb::parallel_for(std::size_t{0}, columns.size(), [&](std::size_t c) {
    const auto& [name, shares] = columns[c];
    const auto more = strata(name, count, block);
    shares->insert(shares->end(), more.begin(), more.end());
  });
  correlate(which, from);
}

void Draws::extend_independently(std::size_t count) {
  for (const UncertainNumber* number : drawn_) {
    if (number->scatter.shape == Shape::exact) continue;
    boost::random::mt19937_64 engine(
        seed_ ^ stable_hash(number->key + std::string(scatter_suffix) + " independent"));
    std::vector<double>& shares = column_of(number->key).scatter;
    for (std::size_t i = 0; i < count; ++i) shares.push_back(unit_share(engine));
  }
  correlate(Which::scatter, 0);
}

void Draws::correlate(Which which, std::size_t from) {
  for (const Correlation& correlation : correlations_) {
    if (correlation.of_scatter != (which == Which::scatter)) continue;
    const numerics::JointNormal joint(correlation.matrix);
    std::vector<std::vector<double>*> columns;
    for (const std::string& key : correlation.keys) {
      Column& column = column_of(key);
      columns.push_back(correlation.of_scatter ? &column.scatter : &column.spread);
    }
    const std::size_t count = columns.front()->size() - from;
    std::vector<std::vector<double>> scores(columns.size(), std::vector<double>(count));
    std::vector<double> together(columns.size());
    for (std::size_t i = 0; i < count; ++i) {
      for (std::size_t k = 0; k < columns.size(); ++k)
        together[k] = normal_quantile((*columns[k])[from + i]);
      joint.correlate(together);
      for (std::size_t k = 0; k < columns.size(); ++k) scores[k][i] = together[k];
    }
    for (std::size_t k = 0; k < columns.size(); ++k) {
      const auto own = std::span(*columns[k]).subspan(from);
      std::vector<double> rising(own.begin(), own.end());
      std::ranges::sort(rising);
      const std::vector<std::size_t> ranks = ranks_of(scores[k]);
      for (std::size_t i = 0; i < count; ++i) own[i] = rising[ranks[i]];
    }
  }
}

std::vector<Draws::Input> Draws::inputs() const {
  std::vector<Input> inputs;
  for (const UncertainNumber* number : drawn_) {
    if (number->spread.shape != Shape::exact) inputs.push_back({number, false});
    if (number->scatter.shape != Shape::exact) inputs.push_back({number, true});
  }
  return inputs;
}

double Draws::share(const Input& input, int sample) const {
  const Column& column = column_of(*input.number);
  return (input.scatter ? column.scatter : column.spread).at(static_cast<std::size_t>(sample));
}

Draws::Draws(std::span<const UncertainNumber* const> numbers, std::span<const Places> places)
    : samples_(static_cast<int>(places.size())) {
  name_columns(numbers);
  for (std::size_t c = 0; c < columns_.size(); ++c)
    for (const Places& sample : places) {
      const auto found = sample.find(drawn_[c]->key);
      const NumberPlace at = found == sample.end() ? NumberPlace{} : found->second;
      columns_[c].spread.push_back(at.spread);
      columns_[c].scatter.push_back(at.scatter);
    }
}

const Draws::Column& Draws::column_of(const UncertainNumber& number) const {
  // Another number may stand by now where one of another key stood.
  if (const auto at = index_at_.find(&number);
      at != index_at_.end() &&
      (drawn_[at->second] == &number || drawn_[at->second]->key == number.key))
    return columns_[at->second];
  const auto found = index_.find(number.key);
  if (found == index_.end())
    throw std::logic_error("no draws for the uncertain number " + number.key);
  return columns_[found->second];
}

double Draws::value(const UncertainNumber& number, int sample) const {
  if (number.certain()) return number.mid();
  const auto i = static_cast<std::size_t>(sample);
  const auto& [spread, scatter] = column_of(number);
  return number.at(spread.empty() ? 0.5 : spread[i], scatter.empty() ? 0.5 : scatter[i]);
}

std::vector<double> Draws::column(const UncertainNumber& number) const {
  std::vector<double> values(static_cast<std::size_t>(samples_));
  for (int i = 0; i < samples_; ++i) values[static_cast<std::size_t>(i)] = value(number, i);
  return values;
}

}  // namespace ohmdrag::study
