#pragma once

#include <complex>
#include <vector>

#include "ohmdrag/voltage/coupling.hpp"
#include "voltage/branch.hpp"

/// What a step of the common mode leaves on the shaft node with its path, as a sum of exponentials:
/// exact for a linear path of any number of films. Kernel of the edges, the carrier and the
/// periodic response; SI throughout.
namespace ohmdrag::voltage {

/// Re(weight exp(rate t)); a conjugate pair is one mode with twice the weight.
struct StepMode {
  std::complex<double> rate_per_s;
  std::complex<double> weight;
};

/// h(t) of a step of 1 V of the voltage that the source alone would give, from rest.
///
///     (v, i, u_1..u_n):  C v' = C s - i,   L i' = v - R i - sum u_k,   C_k u_k' = i - u_k/R_k
///     h(t) = Re sum weight exp(rate t),   weight = 1/(1 - C p^2 dZ_b/ds(p)) at the pole p
///
/// C is C_T + C_across. Without films the poles are those of the quadratic equation, else the
/// eigenvalues of the state matrix, polished by Newton's method on 1 + s C Z_b(s).
///
/// Limits    one mode of rate 0 and weight 1 without a path; none where path or node is shorted.
/// Accuracy  rounding; where two poles meet (critical damping) the node capacitance steps aside by
///           about 1e-11, which moves no response by more.
/// Source    derived: residues of C Z_b/(1 + s C Z_b).
class StepModes {
 public:
  /// \throws std::invalid_argument for an undefined node or path.
  StepModes(const ShaftNode& node, const MaybePath& path);

  const std::vector<StepMode>& all() const { return modes_; }
  /// Shaft over common mode before the path has taken anything: C_wr/(C_T + C_across).
  double ratio() const { return ratio_; }
  /// Whether nothing on the shaft stands for ever.
  bool forgets() const { return !path_ || branch_.conducts_perfectly() || branch_.dissipates(); }

 private:
  bool path_ = false;
  Branch branch_{GroundingPath{}};
  double ratio_ = 0.0;
  std::vector<StepMode> modes_;
};

/// exp(z) - 1 without loss of digits for small z.
std::complex<double> exp_less_one(std::complex<double> z);

}  // namespace ohmdrag::voltage
