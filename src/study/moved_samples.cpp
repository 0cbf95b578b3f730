#include "study/moved_samples.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <numeric>
#include <optional>
#include <stdexcept>
#include <utility>

#include "ohmdrag/study/visit.hpp"

namespace ohmdrag::study {
namespace {

std::vector<std::string> moved_in(const Places& places) {
  std::vector<std::string> moved;
  for (const auto& [key, place] : places)
    if (place.spread != 0.5 || place.scatter != 0.5) moved.push_back(key);
  return moved;
}

/// Far from the middle a contact may be unstable or not fit: there is no answer then.
template <class F>
auto if_possible(const F& computed) -> std::optional<decltype(computed())> {
  try {
    return computed();
  } catch (const std::invalid_argument&) {
    return std::nullopt;
  } catch (const std::domain_error&) {
    return std::nullopt;
  }
}

}  // namespace

MovedSamples::MovedSamples(const Ensemble& of) : of_(of) {
  const std::vector<Variant>& variants = of.question->variants;
  std::vector<std::size_t> all(variants.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  const std::array middle{Places{}};
  const Draws stated(of.draws->drawn(), middle);
  if (auto there = if_possible([&] { return samples_in(of, Draw(stated, 0), all); }))
    middle_ = std::move(*there);

  for (const UncertainNumber* number : of.draws->drawn())
    reached_.emplace(number->key, std::vector<bool>(variants.size()));
  const auto reaches = [&](std::size_t v) {
    return [this, v](const UncertainNumber& number) {
      const auto found = reached_.find(number.key);
      if (found != reached_.end()) found->second[v] = true;
    };
  };
  std::unordered_map<const Case*, Case> worlds;  // without variants
  for (const std::size_t v : all) {
    const Case& world = of.world(v);
    const auto [alone, is_new] = worlds.try_emplace(&world, world);
    if (is_new) alone->second.variants.clear();
    for_each_number(std::as_const(alone->second), reaches(v));
    for_each_number(variants[v], reaches(v));
  }
}

bool MovedSamples::reach(std::span<const std::string> moved, std::size_t variant) const {
  return middle_.empty() || std::ranges::any_of(moved, [&](const std::string& key) {
           return reached_.at(key)[variant];
         });
}

MovedVariants MovedSamples::in(const Draw& draw, std::span<const std::string> moved,
                               const std::vector<bool>& asked) const {
  const std::size_t variants = of_.question->variants.size();
  MovedVariants result;
  result.all.resize(variants);
  std::vector<std::size_t> reached;
  for (std::size_t v = 0; v < variants; ++v) {
    if (!asked.empty() && !asked[v]) continue;
    if (reach(moved, v))
      reached.push_back(v);
    else
      result.all[v] = &middle_[v];
  }
  result.computed = samples_in(of_, draw, reached);
  for (std::size_t i = 0; i < reached.size(); ++i) result.all[reached[i]] = &result.computed[i];
  return result;
}

std::vector<std::optional<MovedVariants>> MovedSamples::at(std::span<const Places> places,
                                                           const std::vector<bool>& asked) const {
  const Draws stated(of_.draws->drawn(), places);
  std::vector<std::optional<MovedVariants>> result(places.size());
  oneapi::tbb::parallel_for(std::size_t{0}, places.size(), [&](std::size_t i) {
    result[i] = if_possible(
        [&] { return in(Draw(stated, static_cast<int>(i)), moved_in(places[i]), asked); });
  });
  return result;
}

}  // namespace ohmdrag::study
