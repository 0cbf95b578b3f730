#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "input/angle_units.hpp"
#include "input/run_reading.hpp"
#include "input/text_blocks.hpp"
#include "ohmdrag/rig/one_port.hpp"
#include "ohmdrag/rig/sweep_run.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

constexpr std::array columns{MappedColumn{"frequency", Dimension::frequency},
                             MappedColumn{"magnitude", Dimension::resistance, {}, false},
                             MappedColumn{"phase", Dimension::ratio, angle_units, false},
                             MappedColumn{"real", Dimension::resistance, {}, false},
                             MappedColumn{"imaginary", Dimension::resistance, {}, false}};
enum Column { frequency, magnitude, phase, real, imaginary };

/// One pass over [run] of an impedance sweep.
class SweepReader {
 public:
  explicit SweepReader(RunReading& reading)
      : reading_(reading), run_(reading.run), columns_(run_.table("columns")) {}

  rig::SweepRun read() {
    read_shape();
    read_use();
    read_logs();
    read_fixture();
    read_other_level();
    if (columns_.present() && csv_) columns_.done();
    return std::move(out_);
  }

 private:
  /// Polar or right-angled, of whatever is no network file.
  void read_shape() {
    if (!columns_.present()) return;
    polar_ = columns_.has("magnitude") && columns_.has("phase");
    const bool right_angled = columns_.has("real") && columns_.has("imaginary");
    if (polar_ == right_angled)
      columns_.complain({}, "expected either magnitude and phase or real and imaginary");
    reading_.problems.throw_if_any();
  }

  void read_use() {
    if (!run_.has("running"))
      run_.missing("running", "true if the shaft turned, false if the contact was at rest");
    out_.running = run_.flag("running", false);
    out_.path_included = run_.flag("path_included", false);
    out_.variant = run_.maybe_text("variant").value_or("");
    if (const auto level = run_.maybe_number<Voltage>("level")) out_.level = level->nominal();
  }

  void read_logs() {
    constexpr std::array<std::string_view, 2> ways{"log", "pairs"};
    const std::string_view way = run_.exactly_one(ways);
    const auto in_series = run_.maybe_integer("in_series").value_or(way == "pairs" ? 2 : 1);
    if (in_series != 1 && in_series != 2)
      run_.complain("in_series", "expected 1, or 2 alike in series over the shaft");
    if (way == "pairs") {
      out_.contacts = rig::SweepContacts::three_pairs;
      if (in_series != 2) run_.complain("in_series", "pairs are two in series");
      TableReader pairs = run_.table("pairs");
      for (const std::string_view key : {"ab", "bc", "ca"})
        out_.sweeps.push_back(sweep_of(pairs, key));
      pairs.done();
    } else if (way == "log") {
      out_.contacts = in_series == 2 ? rig::SweepContacts::pair : rig::SweepContacts::one;
      out_.sweeps.push_back(sweep_of(run_, "log"));
    }
  }

  void read_fixture() {
    if (!run_.has("fixture")) return;
    TableReader table = run_.table("fixture");
    if (table.has("short")) out_.fixture.short_circuit = sweep_of(table, "short");
    if (table.has("open")) out_.fixture.open = sweep_of(table, "open");
    if (table.has("load")) {
      out_.fixture.load = sweep_of(table, "load");
      const auto standard = table.number<Resistance>("standard");
      out_.fixture.standard_ohm = standard.mid();
      const Interval known = standard.spread.interval();
      constexpr double both_ends = 3.92;  // 95 % in standard deviations
      out_.standard_error = (known.high - known.low) / (both_ends * known.mid);
    }
    const std::vector<std::string> forms{"leads-first", "symmetric"};
    if (table.has("form") && table.word("form", forms) == forms[1])
      out_.fixture.form = rig::FixtureForm::symmetric;
    if (const auto changed = table.maybe_number<Inductance>("changed_leads"))
      out_.changed_leads = changed->nominal();
    table.done();
  }

  void read_other_level() {
    if (!run_.has("other_level")) return;
    TableReader table = run_.table("other_level");
    rig::Sweep sweep = sweep_of(table, "log");
    const Voltage level = table.number<Voltage>("level").nominal();
    table.done();
    if (!out_.level)
      run_.missing("level", "the level of the log, where there is another one");
    else if (level == *out_.level)
      table.complain("level", "is the level of the log; expected another");
    out_.other = rig::SweepRun::OtherLevel{std::move(sweep), level};
  }

  rig::Sweep sweep_of(TableReader& named, std::string_view key) {
    const std::string name = named.text(key);
    reading_.problems.throw_if_any();
    std::string extension = fs::path(name).extension().string();
    for (char& c : extension) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    return extension == ".s1p" ? network_sweep(named, key) : column_sweep(named, key);
  }

  rig::Sweep network_sweep(TableReader& named, std::string_view key) {
    const fs::path file = file_named_by(*named.find(key));
    Problems of_file;
    const auto text = read_log_text(file, of_file);
    if (!text) {
      named.complain(key, fmt::format("{}: {}", file.string(), of_file.first()));
      return {};
    }
    try {
      rig::OnePort port = rig::one_port_of(text->content);
      reading_.head.files.push_back({file.filename().string(), text->sha256, port.sweep.size()});
      if (port.reference) out_.reference = port.reference;
      return std::move(port.sweep);
    } catch (const std::invalid_argument& error) {
      named.complain(key, fmt::format("{}: {}", file.string(), error.what()));
      return {};
    }
  }

  rig::Sweep column_sweep(TableReader& named, std::string_view key) {
    csv_ = true;
    if (!columns_.present()) {
      run_.missing("columns", "which column of the CSV file is what, in what unit");
      reading_.problems.throw_if_any();
    }
    const auto table = read_run_log(reading_, named, columns_, columns, key);
    reading_.problems.throw_if_any();
    rig::Sweep sweep;
    for (std::size_t i = 0; i < table->columns[frequency].size(); ++i) {
      const auto cell = [&](Column column) { return table->columns[column][i]; };
      if (polar_ && cell(magnitude) < 0.0) {
        named.complain(key, fmt::format("{}: a magnitude is negative: is it another column, are "
                                        "these decibels?",
                                        table->file));
        return {};
      }
      sweep.push_back({Frequency::from_value(cell(frequency)),
                       polar_ ? std::polar(cell(magnitude), cell(phase) * std::numbers::pi / 180.0)
                              : std::complex<double>{cell(real), cell(imaginary)}});
    }
    return sweep;
  }

  RunReading& reading_;
  TableReader& run_;
  TableReader columns_;
  bool polar_ = true;
  bool csv_ = false;
  rig::SweepRun out_;
};

}  // namespace

RunFit read_impedance_sweep_run(RunReading& reading) {
  rig::SweepRun run = SweepReader(reading).read();
  return [run = std::move(run), head = reading.head] {
    return rig::sweep_findings(head, run, rig::fit_sweep_run(run));
  };
}

}  // namespace ohmdrag::input
