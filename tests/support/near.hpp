#pragma once

#include <catch2/catch.hpp>
#include <cmath>
#include <sstream>
#include <string>

#include "ohmdrag/quantity/quantities.hpp"

/// Matchers for quantities: both sides have the same unit or the test does not compile, and a
/// failure prints nine significant digits.
namespace ohmdrag::test {

inline double raw(double x) { return x; }
template <class U>
double raw(const boost::units::quantity<U>& q) {
  return q.value();
}

template <class Q>
class Near : public Catch::MatcherBase<Q> {
 public:
  Near(Q expected, double tolerance, bool relative)
      : expected_(expected), tolerance_(tolerance), relative_(relative) {}
  bool match(const Q& actual) const override {
    const double allowed = relative_ ? tolerance_ * std::abs(raw(expected_)) : tolerance_;
    return std::abs(raw(actual) - raw(expected_)) <= allowed;
  }
  std::string describe() const override {
    std::ostringstream out;
    out.precision(9);
    out << "is within " << tolerance_ << (relative_ ? " relative" : " SI") << " of "
        << raw(expected_) << " (SI)";
    return out.str();
  }

 private:
  Q expected_;
  double tolerance_;
  bool relative_;
};

/// Relative tolerance.
template <class Q>
Near<Q> near(Q expected, double relative) {
  return {expected, relative, true};
}
/// Absolute tolerance in the same unit.
template <class Q>
Near<Q> within(Q expected, Q tolerance) {
  return {expected, raw(tolerance), false};
}
inline Near<Temperature> within(Temperature expected, TemperatureDifference tolerance) {
  return {expected, tolerance.value(), false};
}

}  // namespace ohmdrag::test

namespace Catch {
template <class U>
struct StringMaker<boost::units::quantity<U>> {
  static std::string convert(const boost::units::quantity<U>& q) {
    std::ostringstream out;
    out.precision(9);
    out << q.value() << " (SI)";
    return out.str();
  }
};
}  // namespace Catch
