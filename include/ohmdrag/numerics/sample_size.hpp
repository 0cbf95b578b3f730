#pragma once

/// What a few specimens say about all parts, and how many are needed to say so much.
namespace ohmdrag::numerics {

/// The fewest specimens of which, with no more failures than allowed, a share of all parts holds
/// with so much confidence.
///
///     sum over i = 0 … failures of C(n, i) (1 - R)^i R^(n - i) <= 1 - C
///
/// Validity  specimens drawn at random from the parts meant; each holds or fails, alike and alone.
/// Limits    no failure allowed: the success run, n = ln(1 - C)/ln(R), rounded up.
/// Source    binomial distribution; as the success run a textbook rule of reliability testing.
/// \param share       R in (0, 1)
/// \param confidence  C in (0, 1)
/// \throws std::invalid_argument for members outside these ranges, negative failures, or where more
///         than a million specimens would be needed.
int specimens_needed(double share, double confidence, int failures = 0);

/// The share of all parts that holds at least, at this confidence, when so many of the specimens
/// held; no law of the distribution enters.
///
/// Validity  as specimens_needed().
/// Limits    all n held: (1 - C)^(1/n). None held: 0.
/// Source    C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404-413 (from memory): quantile of
///           the beta distribution with held and n - held + 1.
/// \throws std::invalid_argument unless 0 <= held <= specimens, specimens > 0 and the confidence
///         lies in (0, 1).
double share_at_least(int held, int specimens, double confidence);

/// k of a one-sided tolerance limit of normal values: mean + k s lies above the share of all of
/// them with so much confidence.
///
///     k = t'/sqrt(n),   t' the quantile C of Student's noncentral t with the noncentrality
///                       z_share sqrt(n)
///
/// Validity  normal values; a mean of variance sigma^2/n and an s of its own degrees of freedom.
/// Limits    many specimens: the normal quantile of the share.
/// Accuracy  to 1e-6 of k for up to some hundred specimens.
/// Source    standard form, as in ISO 16269-6 (from memory) and the NIST/SEMATECH e-Handbook of
///           Statistical Methods, section 7.2.6.3 (as quoted).
/// \param mean_of  n, specimens that the mean is worth; need not be whole
/// \param degrees  of freedom of s
/// \throws std::invalid_argument unless both are positive and share and confidence lie in (0, 1).
double normal_tolerance_factor(double mean_of, double degrees, double share, double confidence);

/// The share of normal values that lies below mean + k s at least, at this confidence: the inverse
/// of normal_tolerance_factor() over the share.
/// \param factor  k, of either sign
/// \throws std::invalid_argument as there.
double normal_share_at_least(double factor, double mean_of, double degrees, double confidence);

}  // namespace ohmdrag::numerics
