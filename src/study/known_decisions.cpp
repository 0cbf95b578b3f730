#include "study/known_decisions.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <iterator>

#include "study/decisive_part.hpp"

namespace ohmdrag::study {
namespace {

/// Where every number stands in every draw.
std::vector<Places> places_of(const Draws& draws) {
  std::vector<Places> places(static_cast<std::size_t>(draws.samples()));
  for (const Draws::Input& input : draws.inputs())
    for (std::size_t i = 0; i < places.size(); ++i) {
      NumberPlace& place = places[i][input.number->key];
      (input.scatter ? place.scatter : place.spread) = draws.share(input, static_cast<int>(i));
    }
  return places;
}

}  // namespace

KnownDecisions::KnownDecisions(const Case& question)
    : question_(&question),
      whole_(question, Sections::all()),
      part_(decisive_part(question, HeadlinePoint::left_out)),
      anew_(has_to_be_evaluated_whole(question)) {
  if (anew_) return;
  places_ = places_of(*whole_.draws);
  nominal_ = ensemble_of_part(whole_, part_, decisive_sections(part_),
                              Draws(whole_.draws->drawn(), std::span(places_).first(1)))
                 .nominal;
}

Ensemble KnownDecisions::part_of(std::span<const Places> places) const {
  Ensemble result =
      ensemble_of_part(whole_, part_, Sections{}, Draws(whole_.draws->drawn(), places));
  result.sections = decisive_sections(part_);
  result.nominal = nominal_;
  return result;
}

void KnownDecisions::for_each_anew(std::span<const KnownNumber> known, const Seen& seen) const {
  oneapi::tbb::parallel_for(std::size_t{0}, known.size(), [&](std::size_t k) {
    const Case there = with_known(*question_, known[k].number->key, known[k].u);
    seen(k, Ensemble(there, Sections::all()));
  });
}

void KnownDecisions::for_each(std::span<const KnownNumber> known, const Seen& seen) const {
  if (anew_) {
    for_each_anew(known, seen);
    return;
  }
  std::vector<Places> places;
  for (const KnownNumber& one : known)
    for (Places place : places_) {
      place[one.number->key].spread = one.u;
      places.push_back(std::move(place));
    }
  Ensemble all = part_of(places);
  all.take(0, places.size());
  const std::size_t draws = places_.size();
  oneapi::tbb::parallel_for(std::size_t{0}, known.size(), [&](std::size_t k) {
    Ensemble one = part_of(std::span(places).subspan(k * draws, draws));
    for (auto& of_variant : all.samples) {
      const auto from = of_variant.begin() + static_cast<std::ptrdiff_t>(k * draws);
      one.samples.emplace_back(std::make_move_iterator(from),
                               std::make_move_iterator(from + static_cast<std::ptrdiff_t>(draws)));
    }
    seen(k, one);
  });
}

std::vector<Decision> KnownDecisions::with(std::span<const KnownNumber> known) const {
  std::vector<Decision> result(known.size());
  for_each(known, [&](std::size_t k, const Ensemble& there) { result[k] = decision_of(there); });
  return result;
}

std::vector<DecidingFigures> KnownDecisions::deciding_with(
    std::span<const KnownNumber> known) const {
  std::vector<DecidingFigures> result(known.size());
  for_each(known,
           [&](std::size_t k, const Ensemble& there) { result[k] = deciding_figures(there); });
  return result;
}

}  // namespace ohmdrag::study
