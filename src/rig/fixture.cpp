#include "ohmdrag/rig/fixture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

using Complex = std::complex<double>;

std::string in_words(Frequency frequency) {
  return print_quantity(frequency.value(), Dimension::frequency, 3);
}

/// A log of the fixture, ready to be read between its points.
class FixtureLog {
 public:
  FixtureLog(const Sweep& log, std::string name) : points_(sorted(log)), name_(std::move(name)) {}

  std::optional<Complex> at(Frequency frequency) const {
    if (points_.empty()) return std::nullopt;
    const auto ohm = impedance_at(points_, frequency);
    if (!ohm)
      throw std::invalid_argument(
          fmt::format("the {} of the fixture was measured from {} to {}, the specimen at {} too: "
                      "measure both over one band",
                      name_, in_words(points_.front().frequency),
                      in_words(points_.back().frequency), in_words(frequency)));
    return ohm;
  }

 private:
  Sweep points_;
  std::string name_;
};

/// Where a share of the specimen passes a limit.
class Passed {
 public:
  void take(Frequency frequency, double share) {
    ++all_;
    if (share > lost_in_fixture) ++lost_;
    if (share <= rule_of_hundred) return;
    if (count_ == 0 || frequency < from_) from_ = frequency;
    if (count_ == 0 || frequency > to_) to_ = frequency;
    ++count_;
    largest_ = std::max(largest_, share);
  }
  bool any() const { return count_ > 0; }
  bool lost() const { return 2 * lost_ > all_; }
  std::string where() const {
    return from_ == to_ ? "at " + in_words(from_)
                        : fmt::format("from {} to {}", in_words(from_), in_words(to_));
  }
  std::string largest_percent() const { return print_number(100.0 * largest_, 2); }

 private:
  std::size_t all_ = 0, count_ = 0, lost_ = 0;
  Frequency from_, to_;
  double largest_ = 0.0;
};

double median_magnitude(const Sweep& sweep) {
  std::vector<double> sizes;
  for (const SweepPoint& point : sweep) sizes.push_back(std::abs(point.ohm));
  const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
  std::nth_element(sizes.begin(), middle, sizes.end());
  return *middle;
}

void require_sound(const Fixture& fixture) {
  const bool open = !fixture.open.empty(), closed = !fixture.short_circuit.empty();
  if (!fixture.load.empty() && !(open && closed))
    throw std::invalid_argument("a load compensates together with open and short; log all three");
  if (open && closed && !(median_magnitude(fixture.short_circuit) < median_magnitude(fixture.open)))
    throw std::invalid_argument(
        fmt::format("the short of the fixture reads {} ohm and its open {} ohm, in the median: are "
                    "the two swapped?",
                    print_number(median_magnitude(fixture.short_circuit), 3),
                    print_number(median_magnitude(fixture.open), 3)));
}

void report(const Passed& passed, bool of_short, std::vector<std::string>& warnings) {
  if (passed.lost())
    throw std::invalid_argument(
        of_short ? "the specimen is less than a tenth of the short of its fixture at most "
                   "frequencies: what would be fitted is the difference of two nearly equal "
                   "numbers. Measure with four leads and shorter ones"
                 : "the specimen is more than ten times the open of its fixture at most "
                   "frequencies: what would be fitted is the stray capacitance of the fixture. Use "
                   "one with less");
  if (!passed.any()) return;
  warnings.push_back(
      of_short ? fmt::format("The short of the fixture is more than a hundredth of the specimen {} "
                             "(up to {} %): what is left there is a difference, as good as leads "
                             "and clips lay still.",
                             passed.where(), passed.largest_percent())
               : fmt::format("The specimen is more than a hundredth of the open of the fixture {} "
                             "(up to {} %): the stray capacitance counts there and is only as well "
                             "known as it stayed the same.",
                             passed.where(), passed.largest_percent()));
}

}  // namespace

std::complex<double> without_fixture(std::complex<double> measured_ohm,
                                     const FixtureImpedance& fixture, FixtureForm form) {
  const auto& closed = fixture.short_ohm;
  const auto& open = fixture.open_ohm;
  const Complex z = measured_ohm;
  if (fixture.load_ohm) {
    if (!closed || !open)
      throw std::invalid_argument("fixture: a load needs open and short beside it");
    return fixture.standard_ohm * (*closed - z) * (*fixture.load_ohm - *open) /
           ((z - *open) * (*closed - *fixture.load_ohm));
  }
  if (!open) return z - closed.value_or(0.0);
  if (form == FixtureForm::symmetric) {
    const Complex shorted = closed.value_or(0.0);
    return (shorted - z) * *open / (z - *open);
  }
  const Complex behind = z - closed.value_or(0.0);
  return behind / (1.0 - behind / (*open - closed.value_or(0.0)));
}

Compensated compensated(const Sweep& measured, const Fixture& fixture) {
  require_sound(fixture);
  const FixtureLog closed(fixture.short_circuit, "short"), open(fixture.open, "open"),
      load(fixture.load, "load");
  Passed of_short, of_open;
  Compensated out;
  for (const SweepPoint& point : measured) {
    const FixtureImpedance here{closed.at(point.frequency), open.at(point.frequency),
                                load.at(point.frequency), fixture.standard_ohm};
    const Complex specimen = without_fixture(point.ohm, here, fixture.form);
    if (!(std::abs(specimen) > 0.0) || !std::isfinite(std::abs(specimen)))
      throw std::invalid_argument(
          fmt::format("nothing is left of the specimen at {} without its fixture: is the log of "
                      "the short or of the open that of the specimen?",
                      in_words(point.frequency)));
    if (here.short_ohm)
      of_short.take(point.frequency, std::abs(*here.short_ohm) / std::abs(specimen));
    if (here.open_ohm) of_open.take(point.frequency, std::abs(specimen) / std::abs(*here.open_ohm));
    out.sweep.push_back({point.frequency, specimen});
  }
  report(of_short, true, out.warnings);
  report(of_open, false, out.warnings);
  return out;
}

}  // namespace ohmdrag::rig
