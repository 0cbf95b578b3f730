#include "ohmdrag/report/run_fit.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <utility>

#include "ohmdrag/quantity/print.hpp"
#include "report/page.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

using Json = nlohmann::ordered_json;

template <class Q>
using Told = std::optional<rig::Estimate<Q>>;

template <class Q>
void add_row(Table& table, const std::string& name, const Told<Q>& told, double unit,
             const std::string& unit_name) {
  if (!told) {
    table.rows.push_back({words(name), words("not told"), {}, words(unit_name)});
    return;
  }
  const double value = told->value.value() / unit, half = told->half_width.value() / unit;
  table.rows.push_back({words(name), figure(Interval{value - half, value, value + half}),
                        figure(told->standard_error.value() / unit), words(unit_name)});
}

Table table_of(const study::SumpFindings& findings) {
  const rig::SumpFit& fit = findings.fit;
  Table table;
  table.columns = {{"parameter", "", Align::left, true},
                   {"value (95 %)"},
                   {"standard error"},
                   {"unit", "", Align::left}};
  add_row(table, "heat capacity", fit.heat_capacity, 1e3, "kJ/K");
  add_row(table, "conductance", fit.conductance, 1.0, "W/K");
  if (findings.air)
    add_row(table, fmt::format("added by the air stream at {:.4g} km/h", in_kmh(findings.air->at)),
            fit.air_stream, 1.0, "W/K");
  add_row(table, "time constant", fit.time_constant, 1.0, "s");
  if (fit.final_rise) add_row(table, "final rise over the ambient", fit.final_rise, 1.0, "K");
  return table;
}

std::string residuals_in_words(const rig::SumpFit& fit) {
  return fmt::format(
      "{} K root mean square over {} samples; {} from one sample to the next, so {} samples count; "
      "{} far off, which count less and are not left out.",
      print_number(fit.residual_rms.value(), 2), fit.samples, print_number(fit.lag_one, 2),
      print_number(fit.effective_samples, 2), fit.outliers);
}

std::string end_in_words(const rig::SumpFit& fit) {
  return fmt::format("{:.2f} °C modelled (standard error {} K), {:.2f} °C measured.",
                     in_celsius(fit.end_modelled), print_number(fit.end_error.value(), 2),
                     in_celsius(fit.end_measured));
}

/// A basic string of TOML.
std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : harmless(text)) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

std::string source_of(const study::SumpFindings& findings) {
  std::string text = fmt::format("run {}, {}, {}", findings.file, findings.specimen, findings.date);
  if (!findings.oil.empty()) text += ", " + findings.oil;
  return text + fmt::format(", {} samples; heat: {}", findings.fit.samples, findings.heat);
}

template <class Q>
std::string value_of(const rig::Estimate<Q>& told, double unit, const std::string& unit_name,
                     const std::string& source) {
  return fmt::format(
      "{{ value = \"{} {}\", spread = \"± {} {}\", basis = \"measured\", source = {} }}",
      print_number(told.value.value() / unit, 6), unit_name,
      print_number(told.half_width.value() / unit, 2), unit_name, quoted(source));
}

template <class Q>
Json json_of(const Told<Q>& told) {
  if (!told) return nullptr;
  return {{"value", told->value.value()},
          {"standard_error", told->standard_error.value()},
          {"low", (told->value - told->half_width).value()},
          {"high", (told->value + told->half_width).value()}};
}

Json number_or_null(const std::optional<double>& value) { return value ? Json(*value) : nullptr; }

}  // namespace

std::string run_fit(const study::SumpFindings& findings, const TerminalOptions& options) {
  const rig::SumpFit& fit = findings.fit;
  Page page(options);
  page.title(findings.title);
  page.say(fmt::format("{}, {}{}", findings.specimen, findings.date,
                       findings.oil.empty() ? "" : ", " + findings.oil),
           "Specimen: ");
  page.say(fmt::format("{}: {}", findings.file, findings.log), "Log:      ");
  std::string heat = findings.heat;
  if (findings.mean_heat != Power{})
    heat += fmt::format("; {} W in the mean, ± {} % (95 %)",
                        print_number(findings.mean_heat.value(), 3),
                        print_number(196.0 * findings.heat_uncertainty, 2));
  page.say(heat + ".", "Heat:     ");
  page.heading("Sump: one body, C dT/dt = Q - G (T - T_ambient)");
  page.table(table_of(findings));
  if (fit.correlation)
    page.say(
        fmt::format("{} between heat capacity and conductance.", print_number(*fit.correlation, 2)),
        "Correlation: ");
  page.say(residuals_in_words(fit), "Residuals: ");
  page.say(end_in_words(fit), "End of the log: ");
  for (const std::string& note : fit.notes) page.say(note, "Note: ");
  return std::move(page).text();
}

std::string run_fit_json(const study::SumpFindings& findings) {
  const rig::SumpFit& fit = findings.fit;
  const Json document{
      {"schema", "ohmdrag-fit/1"},
      {"kind", "sump-warm-up"},
      {"run",
       {{"title", findings.title},
        {"specimen", findings.specimen},
        {"date", findings.date},
        {"oil", findings.oil},
        {"log", findings.file},
        {"sha256", findings.sha256},
        {"samples", fit.samples},
        {"duration_s", fit.duration.value()},
        {"heat", findings.heat},
        {"mean_heat_W", findings.mean_heat != Power{} ? Json(findings.mean_heat.value()) : nullptr},
        {"heat_relative_standard_uncertainty", findings.heat_uncertainty}}},
      {"parameters",
       {{"heat_capacity_J_per_K", json_of(fit.heat_capacity)},
        {"conductance_W_per_K", json_of(fit.conductance)},
        {"air_stream_W_per_K", json_of(fit.air_stream)},
        {"time_constant_s", json_of(fit.time_constant)},
        {"final_rise_K", json_of(fit.final_rise)},
        {"correlation_heat_capacity_conductance", number_or_null(fit.correlation)}}},
      {"residuals",
       {{"rms_K", fit.residual_rms.value()},
        {"lag_one_autocorrelation", fit.lag_one},
        {"effective_samples", fit.effective_samples},
        {"outliers", fit.outliers}}},
      {"end",
       {{"measured_degC", in_celsius(fit.end_measured)},
        {"modelled_degC", in_celsius(fit.end_modelled)},
        {"standard_error_K", fit.end_error.value()}}},
      {"notes", fit.notes}};
  return escaped_for_terminal(
             document.dump(2, ' ', false, nlohmann::json::error_handler_t::replace)) +
         '\n';
}

std::string run_fit_toml(const study::SumpFindings& findings, const std::string& version) {
  const rig::SumpFit& fit = findings.fit;
  if (!fit.heat_capacity && !fit.conductance) return {};
  const std::string source = source_of(findings);
  std::string text = fmt::format(
      "# Fitted by ohmdrag {} from {} (sha256 {}).\n"
      "# A case that includes this file must not state these keys in its own [sump]: later wins.\n",
      version, harmless(findings.file), findings.sha256);
  if (fit.correlation)
    text += fmt::format("# Their correlation, {}, is not carried over: a case draws them apart.\n",
                        print_number(*fit.correlation, 2));
  text += "[sump]\n";
  if (fit.heat_capacity)
    text += "heat_capacity = " + value_of(*fit.heat_capacity, 1e3, "kJ/K", source) + '\n';
  if (fit.conductance)
    text += "conductance = " + value_of(*fit.conductance, 1.0, "W/K", source) + '\n';
  if (fit.conductance && fit.air_stream)
    text += fmt::format("[sump.conductance_speed]\nadded = {}\nat = \"{} km/h\"\nexponent = {}\n",
                        value_of(*fit.air_stream, 1.0, "W/K", source),
                        print_number(in_kmh(findings.air->at), 6),
                        print_number(findings.air->exponent, 6));
  return text;
}

}  // namespace ohmdrag::report
