#include <array>
#include <utility>

#include "input/run_contact.hpp"
#include "ohmdrag/rig/force_findings.hpp"

namespace ohmdrag::input {

namespace {

/// One pass over [run] of a contact whose force was varied.
class ForceReader {
 public:
  explicit ForceReader(RunReading& reading) : reading_(reading), run_(reading.run) {}

  rig::ForceMeasurement read() {
    out_.contact = contact_of_run(reading_, load_catalogue(reading_.options.data_folder)).id;
    out_.run.elements = elements_of_run(reading_);
    if (run_.has("diameter")) out_.diameter = run_.number<Length>("diameter").nominal();
    if (run_.has("lead")) {
      const auto lead = run_.number<Resistance>("lead");
      out_.run.lead = lead.nominal();
      out_.run.lead_error = Resistance::from_value(standard_uncertainty(lead.spread.interval()));
    }
    if (run_.has("tare")) {
      const auto tare = run_.number<Torque>("tare");
      out_.run.tare = tare.nominal();
      out_.run.tare_error = Torque::from_value(standard_uncertainty(tare.spread.interval()));
    }
    out_.signal_words = run_.maybe_text("signal").value_or("");
    read_log();
    reading_.problems.throw_if_any();
    return std::move(out_);
  }

 private:
  void read_log() {
    TableReader columns = run_.required_table("columns");
    const std::array<std::string_view, 2> forces{"line_force", "force"};
    const std::string_view force = columns.exactly_one(forces);
    if (!columns.has("impedance") && !columns.has("torque"))
      columns.complain({}, "expected impedance or torque, or both");
    reading_.problems.throw_if_any();
    out_.run.per_length = force == forces[0];
    if (run_.has("reference"))
      out_.run.reference = out_.run.per_length
                               ? run_.number<LineForce>("reference").nominal().value()
                               : run_.number<Force>("reference").nominal().value();
    const std::vector<MappedColumn> mapped{
        {.key = force, .dimension = out_.run.per_length ? Dimension::line_force : Dimension::force},
        {.key = "impedance", .dimension = Dimension::resistance, .required = false},
        {.key = "torque", .dimension = Dimension::torque, .required = false},
        {.key = "specimen", .required = false, .words = true}};
    const auto read = read_run_log(reading_, run_, columns, mapped);
    columns.done();
    if (!read) return;
    for (std::size_t i = 0; i < read->rows(); ++i) {
      rig::ForcePoint point;
      point.force = read->columns[0][i];
      if (!read->columns[1].empty()) point.impedance = Resistance::from_value(read->columns[1][i]);
      if (!read->columns[2].empty()) point.torque = Torque::from_value(read->columns[2][i]);
      if (!read->words[3].empty()) point.specimen = read->words[3][i];
      out_.run.points.push_back(std::move(point));
    }
  }

  RunReading& reading_;
  TableReader& run_;
  rig::ForceMeasurement out_;
};

}  // namespace

RunFit read_force_run(RunReading& reading) {
  auto measured = ForceReader(reading).read();
  return [head = reading.head, measured = std::move(measured)] {
    return rig::force_findings(head, measured);
  };
}

}  // namespace ohmdrag::input
