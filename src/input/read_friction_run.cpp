#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "input/run_contact.hpp"
#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/rig/friction_findings.hpp"

namespace ohmdrag::input {

namespace {

/// Entries whose constants shape the rivals of the law that a run names.
constexpr auto usual_ptfe = "conductive-ptfe-lip";
constexpr auto usual_film = "standard-lip";

/// One pass over [run] of a contact whose friction was measured.
class FrictionReader {
 public:
  explicit FrictionReader(RunReading& reading)
      : reading_(reading),
        run_(reading.run),
        catalogue_(load_catalogue(reading.options.data_folder)) {}

  rig::FrictionMeasurement read() {
    const RunContact contact = contact_of_run(reading_, catalogue_);
    out_.contact = contact.id;
    if (!contact.entry && run_.has("contact"))
      out_.remarks.push_back(fmt::format(
          "no built-in entry is called {}: a case that includes the result completes it.",
          contact.id));
    out_.run.elements = elements_of_run(reading_);
    read_law(contact);
    read_force();
    read_lubricant();
    read_temperature();
    read_rows();
    read_stated_tare();
    reading_.problems.throw_if_any();
    read_logs();
    reading_.problems.throw_if_any();
    return std::move(out_);
  }

 private:
  void read_law(const RunContact& contact) {
    const std::vector<std::string> laws{"constant", "ptfe", "mixed-film"};
    out_.run.law = run_.word("friction_law", laws);
    if (run_.has("contact_width")) {
      out_.run.contact_width = run_.number<Length>("contact_width").nominal();
    } else if (const auto width = contact_width_of(contact)) {
      out_.run.contact_width = width;
      out_.remarks.push_back(
          fmt::format("contact width of the entry, {} mm.", print_number(1e3 * width->value(), 3)));
    }
    if (run_.has("load_share_exponent"))
      out_.run.load_share_exponent = run_.number<double>("load_share_exponent").nominal();
    else
      out_.run.load_share_exponent = of_entry(contact, usual_film, load_share_exponent_of);
    out_.run.ptfe = of_entry(contact, usual_ptfe, ptfe_of);
  }

  template <class T>
  std::optional<T> of_entry(const RunContact& contact, const char* usual,
                            std::optional<T> (*of)(const study::Element&)) const {
    std::optional<T> own = contact.entry ? of(*contact.entry) : std::nullopt;
    return own ? own : of(catalogue_.element(usual));
  }

  void read_force() {
    out_.run.diameter = run_.number<Length>("diameter").nominal();
    const std::array<std::string_view, 3> ways{"line_force", "total_radial_force",
                                               "split_shaft_reading"};
    const std::string_view way = run_.exactly_one(ways);
    if (way.empty()) return;
    reading_.problems.throw_if_any();
    UncertainNumber stated;
    if (way == ways[0]) {
      const auto force = run_.number<LineForce>(way);
      out_.run.line_force = force.nominal();
      stated = force;
    } else {
      const auto force = run_.number<Force>(way);
      out_.run.line_force =
          way == ways[1]
              ? contact::line_force_from_total(force.nominal(), out_.run.diameter)
              : contact::line_force_from_split_reading(force.nominal(), out_.run.diameter);
      stated = force;
    }
    reading_.problems.throw_if_any();
    out_.run.force_uncertainty = standard_uncertainty(stated.spread.interval()) / stated.mid();
    out_.force_words = stated.read_as;
    if (way != ways[0])
      out_.force_words +=
          fmt::format(" ({}), {} N/m", way == ways[1] ? "total" : "on a split shaft",
                      print_number(out_.run.line_force.value(), 3));
  }

  void read_lubricant() {
    if (!run_.has("lubricant")) return;
    const auto ids = catalogue_.ids("lubricants");
    const std::string id = run_.text("lubricant");
    if (std::ranges::find(ids, id) == ids.end()) {
      run_.complain("lubricant", fmt::format("read \"{}\", but there is no such lubricant", id),
                    suggestion(id, ids));
      return;
    }
    const study::Lubricant oil = catalogue_.lubricant(id);
    out_.run.oil = material::LubricantProperties{
        .viscosity = material::Walther(oil.viscosity_40.nominal(), oil.viscosity_100.nominal(),
                                       oil.viscosity_constant.nominal()),
        .density_15 = oil.density_15.nominal(),
        .conductivity = oil.conductivity.nominal(),
        .specific_heat = oil.specific_heat.nominal(),
        .permittivity = oil.permittivity.nominal(),
        .pressure_viscosity = oil.pressure_viscosity.nominal()};
    out_.remarks.push_back(fmt::format("viscosity of {}.", id));
  }

  void read_temperature() {
    const std::vector<std::string> places{"oil", "contact"};
    out_.run.contact_temperature =
        run_.word("temperature_of", places, /*required=*/false) == "contact";
    if (!run_.has("contact_rise")) return;
    out_.run.contact_rise = run_.number<ThermalResistance>("contact_rise").nominal();
    if (out_.run.contact_temperature)
      run_.complain("contact_rise", "beside the temperature of the contact it would count twice");
  }

  void read_rows() {
    const std::vector<std::string> ways{"readings", "samples"};
    samples_ = run_.word("rows", ways, /*required=*/false) == "samples";
  }

  void read_stated_tare() {
    if (!run_.has("tare")) return;
    if (run_.has("tare_log"))
      run_.complain("tare", "read tare and tare_log; expected one of the two, or none");
    const auto tare = run_.number<Torque>("tare");
    out_.run.tare = rig::StatedTare{
        tare.nominal(), Torque::from_value(standard_uncertainty(tare.spread.interval()))};
  }

  void read_logs() {
    TableReader columns = run_.required_table("columns");
    if (!columns.has("torque") && !columns.has("power"))
      columns.complain({}, "expected torque or power, or both");
    if (samples_ && !columns.has("time"))
      columns.missing("time", "the column of time: windows are found over time");
    reading_.problems.throw_if_any();
    if (auto table = read_table(columns, "log")) out_.table = std::move(*table);
    if (run_.has("tare_log")) out_.tare = read_table(columns, "tare_log");
    columns.done();
  }

  /// A tare has no specimen, so its log need not hold the columns of one.
  std::optional<rig::FrictionTable> read_table(TableReader& columns, std::string_view key) {
    const bool tare = key == "tare_log";
    std::vector<MappedColumn> mapped{
        {.key = "speed", .dimension = Dimension::rotational_speed},
        {.key = "torque", .dimension = Dimension::torque, .required = false},
        {.key = "power", .dimension = Dimension::power, .required = false}};
    if (!tare || samples_)
      mapped.push_back({.key = "time", .dimension = Dimension::time, .required = false});
    if (!tare) {
      mapped.push_back(
          {.key = "temperature", .dimension = Dimension::temperature, .required = false});
      mapped.push_back({.key = "specimen", .required = false, .words = true});
      mapped.push_back({.key = "sweep", .required = false, .words = true});
    }
    auto read = read_run_log(reading_, run_, columns, mapped, key);
    if (!read) return std::nullopt;
    rig::FrictionTable table;
    table.samples = samples_;
    table.speed = quantities<AngularVelocity>(read->columns[0]);
    table.torque = quantities<Torque>(read->columns[1]);
    table.power = quantities<Power>(read->columns[2]);
    if (!tare || samples_) table.time = quantities<Time>(read->columns[3]);
    if (tare) return table;
    table.temperature = quantities<Temperature>(read->columns[4]);
    table.specimen = std::move(read->words[5]);
    table.sweep = std::move(read->words[6]);
    return table;
  }

  RunReading& reading_;
  TableReader& run_;
  Catalogue catalogue_;
  bool samples_ = false;
  rig::FrictionMeasurement out_;
};

}  // namespace

RunFit read_friction_run(RunReading& reading) {
  auto measured = FrictionReader(reading).read();
  return [head = reading.head, measured = std::move(measured)] {
    return rig::friction_findings(head, measured);
  };
}

}  // namespace ohmdrag::input
