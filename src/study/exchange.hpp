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

/// Life of all bearings under the first law of the case and what it gains, draw by draw; after the
/// dose factor. Without a law nothing.
void fill_life_gain(const Ensemble& ensemble, const ServiceMix& mix, std::size_t variant,
                    ExchangeRow& row);

/// What a variant costs and buys against the baseline.
/// \param cost  energy against the baseline, draw by draw
/// \param gain  dose of the baseline over dose of the variant, draw by draw
ExchangeRow exchange_row(const Ensemble& ensemble, const ServiceMix& mix, std::size_t variant,
                         const std::vector<double>& cost, const std::vector<double>& gain,
                         const VariantFindings& findings);

}  // namespace ohmdrag::study
