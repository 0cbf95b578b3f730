#pragma once

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/study/case.hpp"

/// An invented machine study built without a file: a lip, three grounding resistances, one bearing,
/// constant running.
namespace ohmdrag::test {

template <class Q>
Uncertain<Q> known(Q value, const char* key = "") {
  Uncertain<Q> number(value, Basis::assumed, "invented");
  number.key = key;
  return number;
}

/// Log-normal, 95 % between value/f and value*f.
template <class Q>
Uncertain<Q> times(Q value, double f, const char* key) {
  Uncertain<Q> number = known(value, key);
  number.spread.shape = Shape::log_normal;
  number.spread.half_width = std::log(f);
  return number;
}

/// Normal, 95 % within +-share of the value.
template <class Q>
Uncertain<Q> within_share(Q value, double share, const char* key) {
  Uncertain<Q> number = known(value, key);
  number.spread.shape = Shape::normal;
  number.spread.half_width = share * Uncertain<Q>::raw(value);
  number.spread.floor = 0.0;
  return number;
}

study::Seal sample_seal();
/// A dry ring of a resistance at a force.
study::Grounding sample_grounding(Resistance resistance, LineForce force);
study::Variant sample_variant(const char* id, std::optional<study::Grounding> grounding);
study::Bearing sample_bearing();
/// A pinion of 25 teeth whose films are a way to the frame.
study::PathToFrame sample_mesh(const char* id, Capacitance behind);
study::Case sample_case();

}  // namespace ohmdrag::test
