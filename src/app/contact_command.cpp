#include <fmt/format.h>

#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/edition.hpp"
#include "app/version.hpp"
#include "ohmdrag/input/catalogue.hpp"
#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/quantity/read.hpp"
#include "ohmdrag/report/json.hpp"
#include "ohmdrag/report/terminal.hpp"
#include "ohmdrag/study/evaluate.hpp"

namespace ohmdrag::app {
namespace {

struct ContactOptions : Common {
  std::string diameter, line_force, total_force, split_reading, element, friction;
  std::string width = "0.5 mm", oil = "80 degC", dry = "40 degC", lubricant = "thin-axle-oil";
  std::vector<std::string> speeds;
  bool show_case = false;
  Reader reader;
};

void require(const std::string& option, const std::string& text, Dimension dimension) {
  const auto read = read_quantity(text, dimension);
  if (const auto* problem = std::get_if<ReadProblem>(&read))
    throw UsageError(fmt::format("{}: {}\n  hint: {}", option, problem->what, problem->hint));
}

/// Names go between quotes; whatever would end these is no name.
void require_name(const std::string& option, const std::string& text, const std::string& kind) {
  if (text.find_first_of("\"\\\r\n") != std::string::npos)
    throw UsageError(fmt::format("{}: read \"{}\", which is no name\n  hint: ohmdrag list {}",
                                 option, text, kind));
}

/// The force as a line of the variant: exactly one of the three ways to state it.
std::string force_line(const ContactOptions& o) {
  std::string line;
  const auto one = [&](const std::string& text, const std::string& option, const std::string& key,
                       Dimension dimension) {
    if (text.empty()) return;
    if (!line.empty())
      throw UsageError("give one of --line-force, --total-force and --split-reading");
    require(option, text, dimension);
    line = fmt::format("{} = \"{}\"\n", key, text);
  };
  one(o.line_force, "--line-force", "line_force", Dimension::line_force);
  one(o.total_force, "--total-force", "total_radial_force", Dimension::force);
  one(o.split_reading, "--split-reading", "split_shaft_reading", Dimension::force);
  return line;
}

/// "6000 rpm" as an id, which has no blanks, dots or quotes: "6000-rpm".
std::string id_of(std::string typed) {
  for (char& c : typed)
    if (c == ' ' || c == '\t' || c == '.' || c == '"') c = '-';
  return typed;
}

bool is_seal(const study::Element& element) {
  return std::holds_alternative<study::LipElement>(element.form) ||
         std::holds_alternative<study::FaceSealElement>(element.form);
}

/// A ring's own force, for a look at it without a design.
std::string own_force_line(const study::Element& element) {
  const auto* ring = std::get_if<study::RingElement>(&element.form);
  if (ring == nullptr || ring->fibres) return {};
  const Interval force = ring->line_force.spread.interval();
  return fmt::format("line_force = \"{} N/m +/- {} N/m\"\n", force.mid, force.high - force.mid);
}

/// The calculator is a case like any other, written from the options.
std::string case_text(const ContactOptions& o) {
  require("--diameter", o.diameter, Dimension::length);
  require("--oil", o.oil, Dimension::temperature);
  require("--dry", o.dry, Dimension::temperature);
  require("--width", o.width, Dimension::length);
  require_name("--element", o.element, "contacts");
  require_name("--lubricant", o.lubricant, "lubricants");
  std::string force = force_line(o);
  if (o.element.empty() == o.friction.empty())
    throw UsageError("give --friction for a dry contact or --element for one of the built-in ones");

  std::string text = fmt::format(R"toml([study]
title = "One contact"
baseline = "contact"

[sump]
lubricant = "{}"
heat_capacity = "1 kJ/K"
conductance = "1 W/K"
ambient = "{}"

[[shaft]]
id = "shaft"
diameter = "{}"
dry_side_temperature = "{}"

)toml",
                                 o.lubricant, o.dry, o.diameter, o.dry);
  for (const std::string& speed : o.speeds) {
    require("--speed", speed, Dimension::rotational_speed);
    text += fmt::format(
        "[[operating_point]]\nid = \"{}\"\nshaft_speed = \"{}\"\noil_temperature = \"{}\"\n\n",
        id_of(speed), speed, o.oil);
  }
  std::string element = o.element;
  if (!o.friction.empty()) {
    require("--friction", o.friction, Dimension::ratio);
    if (force.empty()) throw UsageError("--friction needs a force, for example --line-force");
    element = "typed";
    text += fmt::format(R"toml([contact.typed]
kind = "ring"
title = "Dry contact as typed"
line_force = "0.01 N/mm"
contact_width = "{}"
friction = "{}"
body_conductivity = "0.2 W/(m*K)"
body_reach = "1 mm"
[contact.typed.resistance]              # the calculator asks for friction alone
bulk = "0 ohm"
film = "1 ohm"
at_line_force = "0.01 N/mm"
at_diameter = "40 mm"
count_exponent = 0
film_exponent = 0
end_of_service_factor = 1

)toml",
                        o.width, o.friction);
  }
  bool seal = false;
  if (o.friction.empty()) {
    const study::Element built_in = input::load_catalogue(o.data_folder).element(element);
    seal = is_seal(built_in);
    if (force.empty()) force = own_force_line(built_in);
  }
  text += fmt::format(R"toml([[variant]]
id = "contact"
title = "{}"
[variant.{}]
element = "{}"
shaft = "shaft"
position = "10 mm"
{}{})toml",
                      element, seal ? "seal" : "grounding", element, force,
                      seal ? "" : "path = \"none\"\nresistance = \"1 ohm\"\n");
  return text;
}

Exit run(const ContactOptions& options) {
  const std::string text =
      read_for(options.reader, "contact options", [&] { return case_text(options); });
  if (options.show_case) {
    std::cout << text;
    return Exit::done;
  }
  study::Case question = read_for(options.reader, "contact options", [&] {
    return input::case_from_text(text, "contact options", {options.sets, options.data_folder});
  });
  question.warnings.clear();  // of a path that nobody asked about
  study::Findings findings = told_to(options.reader, question,
                                     [&] { return study::evaluate(question, {.budget = true}); });
  if (!options.json) findings.assumptions.clear();  // the calculator is for a glance
  findings.version = version;
  findings.command = "contact";
  if (options.reader)
    findings = edition_for(*options.reader, {}, question, std::move(findings), options.quiet);
  const Screen at = screen();
  std::cout << (options.json ? report::json(findings)
                             : report::terminal(findings, {at.width, at.bold}));
  return Exit::done;
}

}  // namespace

void declare_contact_command(CLI::App& cli, Exit& exit) {
  auto o = std::make_shared<ContactOptions>();
  CLI::App* command =
      cli.add_subcommand("contact", "No file: one contact to torque, watts, heat and temperature");
  command->add_option("--diameter", o->diameter, "Shaft diameter")->required();
  command->add_option("--speed", o->speeds, "Shaft speed; repeat for a list")->required();
  command->add_option("--line-force", o->line_force, "Radial force per length of contact");
  command->add_option("--total-force", o->total_force, "Sum of the radial force");
  command->add_option("--split-reading", o->split_reading, "Reading of a split-shaft gauge");
  command->add_option("--friction", o->friction, "Friction coefficient of a dry contact");
  command->add_option("--element", o->element,
                      "A built-in contact instead (ohmdrag list contacts)");
  command->add_option("--width", o->width, "Contact width along the shaft")->capture_default_str();
  command->add_option("--oil", o->oil, "Oil temperature")->capture_default_str();
  command->add_option("--dry", o->dry, "Air temperature at the dry side")->capture_default_str();
  command->add_option("--lubricant", o->lubricant, "ohmdrag list lubricants")
      ->capture_default_str();
  command->add_flag("--show-case", o->show_case, "Print the case this stands for")
      ->excludes(add_reader(*command, o->reader));
  add_common(*command, *o);
  command->footer(
      "Example: ohmdrag contact --diameter \"40 mm\" --line-force \"0.10 N/mm\" --friction 0.3 "
      "--speed \"6000 rpm\"");
  command->callback([o, &exit] { exit = run(*o); });
}

}  // namespace ohmdrag::app
