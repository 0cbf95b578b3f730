#pragma once

#include <string>

#include "ohmdrag/quantity/basis.hpp"
#include "ohmdrag/quantity/dimension.hpp"
#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/share.hpp"

namespace ohmdrag {

/// A number as it lives from the file to the report: what it is, how far it may be off and why we
/// believe it. All numbers SI.
///
/// Spread is what we do not know: one draw for everything that shares the key. Scatter is
/// part-to-part: one draw a part (a variant's own copy), centred on the spread's draw.
struct UncertainNumber {
  Dimension dimension = Dimension::ratio;
  Distribution spread;
  Distribution scatter;  ///< mid 1 for log-normal (factor), else 0 (added)
  Basis basis = Basis::assumed;
  std::string source;
  std::string key;                ///< shared draws go by this name: "coupling.winding_rotor"
  std::string read_as;            ///< the text it was read from; empty if it was computed
  Share share = Share::customer;  ///< who may read the value
  bool unknown = false;           ///< the user wrote "unknown": the trade's range stands in

  double mid() const { return spread.mid; }
  bool certain() const { return spread.shape == Shape::exact && scatter.shape == Shape::exact; }
  /// The value at given draws; u in (0, 1). Scatter is ignored where it is exact; it is cut (and
  /// its u rescaled) where the sum or product would leave the spread's floor and ceiling.
  double at(double u_spread, double u_scatter) const;
};

/// The same with its dimension known to the compiler.
template <class Q>
struct Uncertain : UncertainNumber {
  Uncertain() { dimension = DimensionOf<Q>::value; }
  explicit Uncertain(Q exact, Basis why = Basis::derived, std::string from = {}) : Uncertain() {
    spread.mid = raw(exact);
    basis = why;
    source = std::move(from);
  }

  Q nominal() const { return typed(mid()); }
  static Q typed(double si_value) {
    if constexpr (std::is_same_v<Q, double>)
      return si_value;
    else
      return Q::from_value(si_value);
  }
  static double raw(Q q) {
    if constexpr (std::is_same_v<Q, double>)
      return q;
    else
      return q.value();
  }
};

}  // namespace ohmdrag
