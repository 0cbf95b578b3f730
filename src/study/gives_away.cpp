#include <algorithm>
#include <cmath>

#include "ohmdrag/study/edition.hpp"
#include "ohmdrag/study/headlines.hpp"
#include "ohmdrag/study/visit.hpp"

namespace ohmdrag::study {
namespace {

constexpr double part = 0.01;              // by which a number is moved
constexpr double least_elasticity = 0.01;  // below that nothing of it is left in print

double relative(double before, double after) {
  if (before == after || !std::isfinite(before) || !std::isfinite(after)) return 0.0;
  return std::abs(after - before) / std::max(std::abs(before), std::abs(after));
}

/// The figure that moves most between two runs.
GivesAway most_moved(const std::string& key, const Headlines& before, const Headlines& after) {
  GivesAway most{.key = key, .variant = {}, .figure = {}};
  for (std::size_t v = 0; v < before.variants.size(); ++v) {
    const auto& old = before.variants[v].figures;
    const auto& moved = after.variants[v].figures;
    for (std::size_t i = 0; i < old.size() && i < moved.size(); ++i) {
      if (!old[i].value || !moved[i].value) continue;
      const double elasticity = relative(old[i].value->mid, moved[i].value->mid) / part;
      if (elasticity > most.elasticity)
        most = {key, before.variants[v].variant, old[i].name, elasticity};
    }
  }
  return most;
}

Headlines with_moved(const Case& question, const std::string& key) {
  Case moved = question;
  for_each_number(moved, [&](UncertainNumber& number) {
    if (number.key != key) return;
    const bool temperature = number.dimension == Dimension::temperature;
    number.spread.mid += temperature ? 1.0 : part * number.spread.mid;
  });
  keep_to_the_middle(moved);
  return headlines(moved);
}

}  // namespace

std::vector<GivesAway> gives_away(const Case& question, Share reader) {
  std::vector<GivesAway> out;
  const std::vector<UncertainNumber> sealed = sealed_numbers(question, reader);
  if (sealed.empty()) return out;
  Case nominal = question;
  keep_to_the_middle(nominal);
  const Headlines before = headlines(nominal);
  for (const UncertainNumber& number : sealed) {
    const GivesAway most = most_moved(number.key, before, with_moved(question, number.key));
    if (most.elasticity >= least_elasticity) out.push_back(most);
  }
  // The interval of the value and the share of the parts within say where the limit lies.
  for (const Requirement& asked : question.requirements)
    for (const auto& limit : {asked.max, asked.min})
      if (limit && is_sealed_for(reader, limit->share))
        out.push_back({limit->key, {}, "share of parts within " + asked.id, 0.0});
  return out;
}

}  // namespace ohmdrag::study
