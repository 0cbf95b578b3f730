#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "study/ensemble.hpp"

/// The figures that a trade is decided on, draw by draw.
namespace ohmdrag::study {

struct HeadlineOfDraw {
  std::size_t variant = 0;
  std::string figure;  ///< in words
  std::string unit;
  std::vector<double> values;  ///< per sample of the ensemble; may be infinite
};

/// Net watts at the point that people talk about, battery energy or mean watts over the service mix
/// against the baseline, impedance at 1 MHz, edge peak and held voltage at the end of service, and
/// the decimal logarithm of the dose factor; each where the ensemble's sections hold it. Net
/// figures of the baseline itself are left out.
std::vector<HeadlineOfDraw> headlines_of_draws(const Ensemble& ensemble);

/// The point of the net watts: the last that an allocation names, else the first.
std::size_t headline_point(const Case& question);

}  // namespace ohmdrag::study
