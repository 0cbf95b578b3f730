#include <algorithm>
#include <cmath>

#include "ohmdrag/study/edition.hpp"
#include "ohmdrag/study/headlines.hpp"
#include "study/moved_numbers.hpp"

namespace ohmdrag::study {
namespace {

constexpr double least_per_cent = 0.01;  // below that nothing of it is left in print

double relative(double before, double after) {
  if (before == after || !std::isfinite(before) || !std::isfinite(after)) return 0.0;
  return std::abs(after - before) / std::max(std::abs(before), std::abs(after));
}

/// The figure that moves most between two runs.
GivesAway most_moved(const std::string& key, const Headlines& before, const Headlines& after) {
  GivesAway most{key, {}, {}, 0.0, {}};
  for (std::size_t v = 0; v < before.variants.size(); ++v) {
    const auto& old = before.variants[v].figures;
    const auto& moved = after.variants[v].figures;
    for (std::size_t i = 0; i < old.size() && i < moved.size(); ++i) {
      if (!old[i].value || !moved[i].value) continue;
      const double per_cent = 100.0 * relative(old[i].value->mid, moved[i].value->mid);
      if (per_cent > most.per_cent)
        most = {key, before.variants[v].variant, old[i].name, per_cent, {}};
    }
  }
  return most;
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
    GivesAway most =
        most_moved(number.key, before, headlines(with_one_moved(question, number.key)));
    most.moved_by = moved_by_in_words(number);
    if (most.per_cent >= least_per_cent) out.push_back(std::move(most));
  }
  // The interval of the value and the share of the parts within say where the limit lies.
  for (const Requirement& asked : question.requirements)
    for (const auto& limit : {asked.max, asked.min})
      if (limit && is_sealed_for(reader, limit->share))
        out.push_back({limit->key, {}, "share of parts within " + asked.id, 0.0, {}});
  return out;
}

}  // namespace ohmdrag::study
