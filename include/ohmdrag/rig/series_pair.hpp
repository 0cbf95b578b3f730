#pragma once

#include <array>
#include <complex>

#include "ohmdrag/rig/impedance_sweep.hpp"

/// Contacts that a rig can only measure two at a time, in series over the shaft.
namespace ohmdrag::rig {

/// The share of one contact in the impedance of the pair where nothing else is known: anything
/// between these is as likely. Assumed.
inline constexpr double least_share = 0.3, most_share = 0.7;

/// Standard uncertainty of one contact of a pair over the mean of both, in the share alone:
/// 2 u_p with p uniform, 23.1 %.
/// Source  uniform distribution, half width over sqrt(3): GUM (JCGM 100:2008) 4.3.7.
double single_of_pair_uncertainty();

/// Each contact of three out of the three pairs, in ohm: A, B, C of AB, BC, CA.
///
///     Z_A = (Z_AB + Z_CA - Z_BC)/2
///
/// Validity  each contact is the same in both of its pairs: same place on the shaft or a shaft that
///           makes no difference, not run in between. A negative resistance says that it was not.
/// Accuracy  each is sqrt(3)/2 as uncertain as a pair, in ohms.
/// Source    derived.
std::array<std::complex<double>, 3> resolved_pairs(std::complex<double> ab_ohm,
                                                   std::complex<double> bc_ohm,
                                                   std::complex<double> ca_ohm);
/// The same for sweeps over one and the same list of frequencies, sorted.
/// \throws std::invalid_argument, in words, for sweeps over other frequencies
std::array<Sweep, 3> resolved_pairs(const Sweep& ab, const Sweep& bc, const Sweep& ca);

/// Two contacts beside each other over their mean, (1 - d^2)/2 with d = 2 p - 1: one half for equal
/// ones, less for any others, so that halving the mean is never too low.
double parallel_over_mean(double share);

/// Every impedance over a number of equal contacts in series.
Sweep share_of_series(Sweep sweep, int contacts);

}  // namespace ohmdrag::rig
