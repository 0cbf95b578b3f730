#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "input/run_contact.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/rig/endurance_findings.hpp"

namespace ohmdrag::input {

namespace {

struct EnduranceMeasurement {
  rig::EnduranceRun run;
  rig::EnduranceUse use;
};

/// One pass over [run] of specimens that were read over hours.
class EnduranceReader {
 public:
  explicit EnduranceReader(RunReading& reading) : reading_(reading), run_(reading.run) {}

  EnduranceMeasurement read() {
    if (run_.has("contact"))
      use_.contact = contact_of_run(reading_, load_catalogue(reading_.options.data_folder)).id;
    use_.in_series = elements_of_run(reading_);
    if (run_.has("line_force")) use_.line_force = run_.number<LineForce>("line_force").nominal();
    if (run_.has("diameter")) use_.diameter = run_.number<Length>("diameter").nominal();
    use_.force_held = run_.flag("force_held", false);
    read_demand();
    if (run_.has("run_in")) run_in_ = run_.number<Time>("run_in").nominal();
    read_logs();
    reading_.problems.throw_if_any();
    leave_out_run_in();
    return {std::move(out_), std::move(use_)};
  }

 private:
  void read_demand() {
    if (run_.has("limit")) out_.limit = run_.number<Resistance>("limit").nominal();
    if (run_.has("service")) out_.service = run_.number<Time>("service").nominal();
    use_.share = share_in("share");
    out_.confidence = share_in("confidence").value_or(out_.confidence);
    if (!run_.has("law")) return;
    using rig::GrowthLaw;
    const std::array laws{GrowthLaw::none, GrowthLaw::power, GrowthLaw::logarithmic,
                          GrowthLaw::saturating};
    std::vector<std::string> words;
    for (const GrowthLaw law : laws) words.emplace_back(word_of(law));
    const std::string word = run_.word("law", words);
    out_.law = laws[static_cast<std::size_t>(std::ranges::find(words, word) - words.begin())];
  }

  /// A share between 0 and 1, without either.
  std::optional<double> share_in(std::string_view key) {
    const auto value = run_.maybe_plain(key);
    if (value && !(*value > 0.0 && *value < 1.0)) {
      run_.complain(key, fmt::format("read {}; expected a share between 0 and 1, 0.95 for 95 %",
                                     print_number(*value, 4)));
      return std::nullopt;
    }
    return value;
  }

  void read_logs() {
    TableReader columns = run_.required_table("columns");
    const bool parts = run_.has("part");
    if (parts == run_.has("log"))
      run_.complain("log",
                    "expected either one log, with a column that names the specimens, or "
                    "[[run.part]] with id and log for each");
    if (parts && columns.has("specimen"))
      columns.complain("specimen", "each [[run.part]] is a specimen; no column names it");
    if (!columns.present() || parts == run_.has("log")) {
      pass_over(columns);
      return;
    }
    if (!parts) {
      read_log(run_, columns, reading_.head.specimen);
    } else {
      for (TableReader& part : run_.tables("part")) {
        const std::string id = part.text("id");
        read_log(part, columns, id);
        part.done();
      }
    }
    columns.done();
  }

  /// After a complaint about the whole, none about each key.
  void pass_over(TableReader& columns) {
    for (const std::string_view key : {"time", "impedance", "torque", "specimen"})
      columns.find(key);
    run_.find("part");
    run_.find("log");
  }

  void read_log(TableReader& named, TableReader& columns, const std::string& specimen) {
    const std::array<MappedColumn, 4> mapped{
        {{.key = "time", .dimension = Dimension::time},
         {.key = "impedance", .dimension = Dimension::resistance},
         {.key = "torque", .dimension = Dimension::torque, .required = false},
         {.key = "specimen", .required = false, .words = true}}};
    const auto read = read_run_log(reading_, named, columns, mapped);
    if (!read) return;
    const std::vector<std::string>& names = read->words[3];
    for (std::size_t i = 0; i < read->rows(); ++i) {
      rig::EnduranceSpecimen& to = specimen_of(names.empty() ? specimen : names[i]);
      to.time.push_back(Time::from_value(read->columns[0][i]));
      to.impedance.push_back(Resistance::from_value(read->columns[1][i] / use_.in_series));
      if (!read->columns[2].empty()) to.torque.push_back(Torque::from_value(read->columns[2][i]));
    }
  }

  rig::EnduranceSpecimen& specimen_of(const std::string& name) {
    const auto found = std::ranges::find(out_.specimens, name, &rig::EnduranceSpecimen::name);
    if (found != out_.specimens.end()) return *found;
    out_.specimens.emplace_back().name = name;
    return out_.specimens.back();
  }

  /// Hours count on from the start of the log; what runs in is no growth.
  void leave_out_run_in() {
    std::size_t count = 0;
    for (rig::EnduranceSpecimen& specimen : out_.specimens) {
      const auto settled =
          std::ranges::find_if(specimen.time, [&](const Time& time) { return time >= run_in_; });
      const auto left_out = settled - specimen.time.begin();
      specimen.impedance.erase(specimen.impedance.begin(), specimen.impedance.begin() + left_out);
      if (!specimen.torque.empty())
        specimen.torque.erase(specimen.torque.begin(), specimen.torque.begin() + left_out);
      specimen.time.erase(specimen.time.begin(), settled);
      count += static_cast<std::size_t>(left_out);
    }
    if (run_in_ > Time{})
      reading_.head.conditions.emplace_back(
          "Run-in", fmt::format("{} readings before {} are left out; hours count from the start.",
                                count, print_quantity(run_in_.value(), Dimension::time)));
  }

  RunReading& reading_;
  TableReader& run_;
  Time run_in_{};
  rig::EnduranceRun out_;
  rig::EnduranceUse use_;
};

}  // namespace

RunFit read_endurance_run(RunReading& reading) {
  auto measured = EnduranceReader(reading).read();
  return [head = reading.head, measured = std::move(measured)] {
    return rig::endurance_findings(head, measured.run, rig::fit_endurance(measured.run),
                                   measured.use);
  };
}

}  // namespace ohmdrag::input
