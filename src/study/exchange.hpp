#pragma once

#include "study/sections.hpp"

namespace ohmdrag::study {

inline constexpr char nothing_strikes[] = "do not ground here: nothing strikes without it";
inline constexpr char not_demonstrable[] = "benefit not demonstrable with these inputs";

/// Bearings differ by decades; a dose that does not even halve is nothing that anybody could see
/// (assumed).
inline constexpr double least_visible_dose_factor = 2.0;

/// "12 in the middle of the draws (1.04 … 7900)".
std::string factor_in_words(const Interval& factor);

/// Whether a variant demonstrably takes discharge dose away: in the whole interval some, in the
/// middle enough to be seen.
bool useful(const ExchangeRow& row);

/// Harm that a verdict must not leave out: a shortened rating life, a path for circulating current
/// in a large machine; empty: none of it. The words do not speak of protection: nothing here
/// computes the current that circulates.
std::string harm_in_words(const Case& question, const VariantFindings& findings);
/// Whether a variant shortens the modified rating life of a bearing in the whole interval.
bool harms_bearings(const VariantFindings& findings);

/// Life of all bearings of a variant in one draw, h.
struct UnitLife {
  double competing_h = 0.0;
  double linear_h = 0.0;
};
/// Under the first law of the case, draw by draw; none where the law says nothing.
using UnitLives = std::vector<std::optional<UnitLife>>;
/// [variant]; in parallel over the draws. Empty without a law, and for a variant whose strikes
/// cannot be counted unless it is the baseline of one whose strikes can.
std::vector<UnitLives> unit_lives(const ServiceMeans& means);

/// Life of all bearings under the first law of the case and what it gains, draw by draw; after the
/// dose factor. Without a law nothing.
/// \param lives  unit_lives()
void fill_life_gain(const ServiceMeans& means, const std::vector<UnitLives>& lives,
                    std::size_t variant, ExchangeRow& row);

/// Of one variant, draw by draw.
struct CostAndGain {
  std::vector<double> cost;  ///< energy against the baseline
  std::vector<double> gain;  ///< dose of the baseline over dose of the variant
};

/// What a variant costs and buys against the baseline.
/// \param lives  unit_lives()
ExchangeRow exchange_row(const ServiceMeans& means, const std::vector<UnitLives>& lives,
                         std::size_t variant, const CostAndGain& drawn,
                         const VariantFindings& findings);

}  // namespace ohmdrag::study
