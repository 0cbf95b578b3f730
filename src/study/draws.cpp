#include "ohmdrag/study/draws.hpp"

#include <algorithm>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/uniform_int_distribution.hpp>
#include <stdexcept>
#include <string_view>

namespace ohmdrag::study {
namespace {

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

std::vector<double> strata(int samples, unsigned long long seed, std::string_view name) {
  std::vector<double> column(static_cast<std::size_t>(samples));
  for (int i = 0; i < samples; ++i) column[static_cast<std::size_t>(i)] = (i + 0.5) / samples;
  // Boost's engine and distribution, unlike std::shuffle, are specified to the last bit.
  boost::random::mt19937_64 engine(seed ^ stable_hash(name));
  for (std::size_t i = column.size(); i > 1; --i) {
    const auto j = boost::random::uniform_int_distribution<std::size_t>(0, i - 1)(engine);
    std::swap(column[i - 1], column[j]);
  }
  return column;
}

}  // namespace

Draws::Draws(std::span<const UncertainNumber* const> numbers, int samples, unsigned long long seed)
    : samples_(samples) {
  if (samples < 1) throw std::invalid_argument("an ensemble needs at least one sample");
  for (const UncertainNumber* number : numbers) {
    if (number->certain() || columns_.contains(number->key)) continue;
    Column column;
    if (number->spread.shape != Shape::exact) column.spread = strata(samples, seed, number->key);
    if (number->scatter.shape != Shape::exact)
      column.scatter = strata(samples, seed, number->key + "#scatter");
    columns_.emplace(number->key, std::move(column));
    drawn_.push_back(number);
  }
}

Draws::Draws(std::span<const UncertainNumber* const> numbers, std::span<const Places> places)
    : samples_(static_cast<int>(places.size())) {
  for (const UncertainNumber* number : numbers) {
    if (number->certain() || columns_.contains(number->key)) continue;
    Column column;
    for (const Places& sample : places) {
      const auto found = sample.find(number->key);
      const NumberPlace at = found == sample.end() ? NumberPlace{} : found->second;
      column.spread.push_back(at.spread);
      column.scatter.push_back(at.scatter);
    }
    columns_.emplace(number->key, std::move(column));
    drawn_.push_back(number);
  }
}

double Draws::value(const UncertainNumber& number, int sample) const {
  if (number.certain()) return number.mid();
  const auto found = columns_.find(number.key);
  if (found == columns_.end())
    throw std::logic_error("no draws for the uncertain number " + number.key);
  const auto i = static_cast<std::size_t>(sample);
  const auto& [spread, scatter] = found->second;
  return number.at(spread.empty() ? 0.5 : spread[i], scatter.empty() ? 0.5 : scatter[i]);
}

std::vector<double> Draws::column(const UncertainNumber& number) const {
  std::vector<double> values(static_cast<std::size_t>(samples_));
  for (int i = 0; i < samples_; ++i) values[static_cast<std::size_t>(i)] = value(number, i);
  return values;
}

}  // namespace ohmdrag::study
