#pragma once

#include <cstddef>

/// What a count says of the rate or the share behind it.
namespace ohmdrag::rig {

struct CountInterval {
  double value = 0.0;
  double low = 0.0, high = 0.0;  ///< of the 95 % interval
};

/// The mean number of events that a Poisson count stands for.
///
///     low = chi2(0.025; 2 n)/2,   high = chi2(0.975; 2 n + 2)/2
///
/// Validity  events that happen apart from each other.
/// Limits    n = 0: low 0 and, one-sided, high -ln 0.05 = 3.00 (the rule of three).
/// Accuracy  covers 95 % or more.
/// Source    F. Garwood, Biometrika 28 (1936) 437-442; rule of three: J. A. Hanley, A.
///           Lippman-Hand, J. Am. Med. Assoc. 249 (1983) 1743-1745 (both from memory).
CountInterval poisson_interval(std::size_t count);

/// The share of all trials of which so many of those made came out.
///
///     low = B(0.025; k, n - k + 1),   high = B(0.975; k + 1, n - k), quantiles of beta
///
/// Validity  trials apart from each other and alike.
/// Limits    k = 0: low 0 and, one-sided, high 1 - 0.05^(1/n); k = n likewise at the other end.
/// Accuracy  covers 95 % or more.
/// Source    C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404-413 (from memory).
/// \throws std::invalid_argument if there is no trial or more came out than were made.
CountInterval binomial_interval(std::size_t count, std::size_t trials);

}  // namespace ohmdrag::rig
