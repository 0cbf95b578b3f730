#include <fmt/format.h>

#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "input/run_reading.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/rig/shaft_voltage_findings.hpp"

namespace ohmdrag::input {

namespace {

/// Half width of the 95 % interval.
double half_width_of(const UncertainNumber& number) {
  const Interval interval = number.spread.interval();
  return 0.5 * (interval.high - interval.low);
}

/// One pass over [run] of a shaft that an oscilloscope watched.
class ShaftVoltageReader {
 public:
  explicit ShaftVoltageReader(RunReading& reading) : reading_(reading), run_(reading.run) {}

  rig::ShaftVoltageRun read() {
    read_source();
    read_instrument();
    read_conditions();
    TableReader columns = run_.required_table("columns");
    reading_.problems.throw_if_any();
    if (auto open = read_record(columns, "log")) out_.open = std::move(*open);
    if (run_.has("grounded_log")) out_.grounded = read_record(columns, "grounded_log");
    columns.done();
    reading_.problems.throw_if_any();
    return std::move(out_);
  }
  /// Speed and oil in words.
  const std::string& at() const { return at_; }

 private:
  void read_source() {
    double relative = 0.0;
    if (run_.has("dc_link")) {
      const auto link = run_.number<Voltage>("dc_link");
      out_.dc_link = link.nominal();
      relative = half_width_of(link) / link.mid();
    }
    if (run_.has("gain_factor")) {
      const auto gain = run_.number<double>("gain_factor");
      if (gain.mid() != 1.0)
        run_.complain("gain_factor", fmt::format("read {}; expected 1 with its spread, \"1 ± 3 %\"",
                                                 gain.read_as));
      out_.gain_uncertainty = half_width_of(gain);
    }
    if (run_.has("legs_at_an_edge")) {
      const double legs = run_.number<double>("legs_at_an_edge").nominal();
      if (legs != 1.0 && legs != 3.0)
        run_.complain("legs_at_an_edge", "expected 1 (a third of the link) or 3 (all of it)");
      else
        out_.legs = static_cast<int>(legs);
    }
    // The link stands in where no common mode is mapped; otherwise it only checks the unit.
    link_uncertainty_ = relative;
  }

  void read_instrument() {
    if (run_.has("bandwidth")) out_.bandwidth = run_.number<Frequency>("bandwidth").nominal();
    if (run_.has("probe_capacitance"))
      out_.probe_capacitance = run_.number<Capacitance>("probe_capacitance").nominal();
    if (run_.has("total_capacitance")) {
      const auto total = run_.number<Capacitance>("total_capacitance");
      out_.total_capacitance = rig::ShaftVoltageRun::Total{
          total.nominal(), Capacitance::from_value(half_width_of(total))};
    }
  }

  void read_conditions() {
    const auto add = [&](std::string words) {
      at_ += (at_.empty() ? "" : ", ") + std::move(words);
    };
    if (run_.has("shaft_speed"))
      add(fmt::format(
          "{} 1/min",
          print_number(in_rpm(run_.number<AngularVelocity>("shaft_speed").nominal()), 4)));
    if (run_.has("oil_temperature"))
      add(fmt::format(
          "oil at {} °C",
          print_number(in_celsius(run_.number<Temperature>("oil_temperature").nominal()), 3)));
    if (out_.dc_link) add(fmt::format("link {} V", print_number(out_.dc_link->value(), 4)));
    if (!at_.empty()) reading_.head.conditions.emplace_back("Conditions", at_ + '.');
  }

  std::optional<rig::ShaftRecord> read_record(TableReader& columns, std::string_view key) {
    constexpr std::array mapped{
        MappedColumn{.key = "time", .dimension = Dimension::time},
        MappedColumn{.key = "shaft", .dimension = Dimension::voltage},
        MappedColumn{.key = "common_mode", .dimension = Dimension::voltage, .required = false}};
    auto read = read_run_log(reading_, run_, columns, mapped, key);
    if (!read) return std::nullopt;
    rig::ShaftRecord record;
    record.time = quantities<Time>(read->columns[0]);
    record.shaft = quantities<Voltage>(read->columns[1]);
    record.common_mode = quantities<Voltage>(read->columns[2]);
    if (key == "log" && record.common_mode.empty())
      out_.gain_uncertainty = std::hypot(out_.gain_uncertainty, link_uncertainty_);
    return record;
  }

  RunReading& reading_;
  TableReader& run_;
  double link_uncertainty_ = 0.0;
  std::string at_;
  rig::ShaftVoltageRun out_;
};

}  // namespace

RunFit read_shaft_voltage_run(RunReading& reading) {
  ShaftVoltageReader reader(reading);
  auto run = reader.read();
  return [head = reading.head, at = reader.at(), run = std::move(run)] {
    return rig::shaft_voltage_findings(head, at, run, rig::fit_shaft_voltage(run));
  };
}

}  // namespace ohmdrag::input
