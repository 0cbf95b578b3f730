// What a contact may state beside force and friction, and what a variant may say of it.
#include <string>

#include "input/support.hpp"

using namespace ohmdrag;
using test::complaint;
using test::load;
using test::problems_of;
using test::replaced;

namespace {

/// On a built-in lip that the data folder of these tests leaves as it is.
const std::string smallest = R"toml([study]
title = "One lip"
[[shaft]]
id = "rotor"
diameter = "45 mm"
[[operating_point]]
id = "fast"
shaft_speed = "9000 rpm"
oil_temperature = "70 degC"
[[variant]]
id = "plain"
[variant.seal]
element = "standard-lip"
position = "12 mm"
)toml";

/// A lip with the keys that every lip has.
const std::string plain_lip = R"toml([contact.own]
kind = "lip"
basis = "assumed"
source = "invented"
line_force = "0.1 N/mm"
contact_width = "0.2 mm"
body_conductivity = "0.25 W/(m*K)"
body_reach = "1 mm"
)toml";
const std::string mixed_film =
    "boundary_friction = 0.5\nfilm_coefficient = 5.5\ntransition_duty = 2e-5\n"
    "load_share_exponent = 0.5\n";
const std::string ptfe =
    "friction_law = \"ptfe\"\nslow_coefficient = 0.12\nmiddle_coefficient = 0.35\n"
    "fast_coefficient = 0.45\nfilled_factor = 1.2\nleast_pressure = \"50 kPa\"\n";
const std::string wedge =
    "[contact.own.service]\nform = \"springless\"\nrelaxation = \"nbr\"\nmodulus = \"elastomer\"\n"
    "wear = \"lip-flooded\"\n";

std::string with_lip(const std::string& contact) {
  return replaced(smallest, "standard-lip", "own") + contact;
}

/// The smallest case with a grounding contact and more keys of it.
std::string grounded(const std::string& element, const std::string& more = {}) {
  return smallest + "[variant.grounding]\nelement = \"" + element +
         "\"\nposition = \"16 mm\"\npath = { inductance = \"10 nH\" }\n" + more;
}

const study::LipElement& lip_of(const study::Case& question) {
  return std::get<study::LipElement>(question.variants.front().seal->element.form);
}
const study::Element& grounding_of(const study::Case& question) {
  return question.variants.front().grounding->element;
}
const study::RingElement& ring_of(const study::Case& question) {
  return std::get<study::RingElement>(grounding_of(question).form);
}
const study::BrushElement& brush_of(const study::Case& question) {
  return std::get<study::BrushElement>(grounding_of(question).form);
}

bool has(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  return text.find(words) != std::string::npos;
}

}  // namespace

// --- entries ------------------------------------------------------------------------------------

TEST_CASE("an entry without the newer keys is what it was", "[derived]") {
  const study::Case c = load(with_lip(plain_lip + mixed_film));
  CHECK(std::holds_alternative<study::MixedFilmEntry>(lip_of(c).law));
  CHECK(std::holds_alternative<std::monostate>(lip_of(c).service));
  CHECK_FALSE(lip_of(c).least_line_force);
  const study::Element& element = c.variants.front().seal->element;
  CHECK_FALSE(element.flash);
  CHECK_FALSE(element.limits.of_material);
  CHECK_FALSE(element.limits.speed_chart);
  CHECK_FALSE(element.limits.graphite);
  CHECK_FALSE(c.shafts.front().deviation);
  CHECK_FALSE(c.points.front().running_time);
  CHECK_FALSE(c.service.hours);

  const std::string resistance =
      "[contact.own.resistance]\nbulk = \"8 ohm\"\nfilm = \"22 ohm\"\ncount_exponent = 0.5\n"
      "film_exponent = 0.75\nend_of_service_factor = 2\n";
  const std::string ring = replaced(plain_lip, "\"lip\"", "\"ring\"") + "friction = 0.2\n" +
                           resistance + "at_line_force = \"10 N/m\"\nat_diameter = \"40 mm\"\n";
  const study::Case of_ring = load(grounded("own", "line_force = \"0.01 N/mm\"\n") + ring);
  CHECK(std::holds_alternative<study::ConstantFrictionEntry>(ring_of(of_ring).law));
  CHECK_FALSE(ring_of(of_ring).fibres);
  CHECK_FALSE(ring_of(of_ring).oil);
  const std::string brush =
      "[contact.own]\nkind = \"brush\"\nbasis = \"assumed\"\nsource = \"invented\"\nforce = \"1 "
      "N\"\n"
      "contact_width = \"5 mm\"\nfriction = 0.2\nholder = \"30 K/W\"\n" +
      resistance + "at_force = \"1 N\"\n";
  const study::Case of_brush = load(grounded("own") + brush);
  CHECK_FALSE(brush_of(of_brush).section);
  CHECK_FALSE(brush_of(of_brush).contact_drop);
  CHECK(std::holds_alternative<std::monostate>(brush_of(of_brush).service));
}

TEST_CASE("the friction law is that of its word", "[derived]") {
  const auto law = [](const std::string& keys) {
    return lip_of(load(with_lip(plain_lip + keys))).law;
  };
  CHECK(std::get<study::ConstantFrictionEntry>(law("friction_law = \"constant\"\nfriction = 0.1\n"))
            .friction.mid() == 0.1);
  CHECK(std::get<study::MixedFilmEntry>(law("friction_law = \"mixed-film\"\n" + mixed_film))
            .film_coefficient.mid() == 5.5);
  const auto dry = std::get<study::PtfeFrictionEntry>(law(ptfe));
  CHECK(dry.fast_coefficient.mid() == 0.45);
  CHECK(dry.least_pressure.nominal().value() == Approx(5e4));
  CHECK(dry.filled_factor.key == "contact.own.filled_factor");
}

TEST_CASE("a service with a form is a wedge, one without a laid pad", "[derived]") {
  const auto service = [](const std::string& seal) {
    return lip_of(load(replaced(smallest, "standard-lip", seal))).service;
  };
  const auto lip = std::get<study::LipService>(service("standard-lip"));
  CHECK(lip.form.radial_interference.nominal().value() == Approx(0.6e-3));
  CHECK(lip.form.spring_share.key == "lip_form.spring-loaded.spring_share");
  CHECK(lip.wear.contact.wear_rate.key == "wear.lip-flooded.wear_rate");
  CHECK(lip.wear.shaft->wear_rate.key == "wear.hardened-shaft.wear_rate");
  CHECK(lip.wear.density->key == "contact.standard-lip.service.density");
  const auto laid = std::get<study::PadService>(service("ptfe-lip"));
  CHECK(laid.deflection->nominal().value() == Approx(0.75e-3));
  CHECK(laid.modulus->points.size() == 4);
  CHECK_FALSE(laid.wear_length);
}

TEST_CASE("built-in contacts state what their kind ages, conducts and stands by", "[derived]") {
  const study::Case brush = load(grounded("solid-carbon-brush", "current = \"2 A\"\n"));
  CHECK(brush_of(brush).section->nominal().value() == Approx(25e-6));
  CHECK(brush_of(brush).contact_drop->mid() == 1.0);
  CHECK(std::get<study::PadService>(brush_of(brush).service).wear_length->nominal().value() ==
        Approx(8e-3));
  CHECK(grounding_of(brush).flash->spot_radius.nominal().value() == Approx(10e-6));
  CHECK(in_celsius(grounding_of(brush).limits.graphite->begin.nominal()) == Approx(150.0));
  CHECK(brush.variants[0].grounding->current->mid() == 2.0);

  const study::Case fibres = load(grounded("carbon-fibre-ring"));
  CHECK(ring_of(fibres).fibres->lean_deg->mid() == 45.0);
  CHECK_FALSE(ring_of(fibres).fibres->end_factor);
  CHECK(grounding_of(fibres).limits.installation_width->nominal().value() == Approx(3e-3));
  CHECK_FALSE(fibres.variants[0].grounding->line_force);

  const study::Case wet = load(grounded("textile-ring-in-oil", "line_force = \"0.01 N/mm\"\n"));
  CHECK(ring_of(wet).oil->residual_oil.mid() == 10.0);
  CHECK(std::holds_alternative<study::MixedFilmEntry>(ring_of(wet).law));

  const study::ElementLimits lip = load(smallest).variants[0].seal->element.limits;
  CHECK(lip.material == "fkm");
  CHECK(lip.speed_chart->beyond.mid() == 15.0);

  // Every number that takes part has a name and a source.
  for (const study::Case& c : {brush, fibres, wet})
    for (const auto& value : input::all_values(c)) {
      CAPTURE(value.key);
      CHECK_FALSE(value.key.empty());
      CHECK_FALSE(value.source.empty());
    }
}

TEST_CASE("a service table of a variant changes what it names and keeps the rest", "[derived]") {
  const study::Case c = load(grounded("fibre-ring-sparse",
                                      "line_force = \"0.006 N/mm\"\n"
                                      "[variant.grounding.override.service]\n"
                                      "wear = \"lip-dry\"\n"));
  const auto& pad = std::get<study::PadService>(ring_of(c).service);
  CHECK(pad.wear.contact.wear_rate.key == "wear.lip-dry.wear_rate");
  REQUIRE(pad.deflection);
  CHECK(pad.deflection->nominal().value() == Approx(1e-3));
  CHECK(pad.wear.shaft);
  CHECK(pad.wear.density);
}

// --- the case -----------------------------------------------------------------------------------

// ISO 286-2, h11 above 30 and up to 50 mm: 0 and -160 um, as quoted in a public metric table.
TEST_CASE("a fit leaves the diameter anywhere in its band", "[derived]") {
  const study::Case c =
      load(replaced(smallest, "diameter = \"45 mm\"", "diameter = \"45 mm\"\nfit = \"h11\""));
  const auto& deviation = c.shafts.front().deviation.value();
  CHECK(deviation.spread.shape == Shape::uniform);
  CHECK(deviation.mid() == Approx(-80e-6));
  CHECK(deviation.spread.half_width == Approx(80e-6));
  CHECK(deviation.basis == Basis::handbook);
  CHECK(deviation.key == "shaft.rotor.fit");
  CHECK(c.shafts.front().diameter.nominal().value() == Approx(0.045));
}

TEST_CASE("a diameter that no band covers is taken as it is, with a warning", "[derived]") {
  const study::Case c =
      load(replaced(smallest, "diameter = \"45 mm\"", "diameter = \"150 mm\"\nfit = \"h11\""));
  CHECK_FALSE(c.shafts.front().deviation);
  CHECK(std::ranges::any_of(c.warnings, [](const std::string& warning) {
    return warning.find("no band for this diameter") != std::string::npos;
  }));
}

TEST_CASE("hours, running-in, changes and room are read", "[derived]") {
  const study::Case c = load(
      "[service]\nhours = \"1200 h\"\n[running_in]\nexcess = 0.2\n" +
      replaced(replaced(smallest, "oil_temperature", "running_time = \"2 h\"\noil_temperature"),
               "position = \"12 mm\"",
               "position = \"12 mm\"\nover_pressure = \"20 kPa\"\navailable_width = \"8 mm\"\n"
               "replaced_every = \"500 h\""));
  CHECK(c.service.hours->mid() == Approx(1200.0 * 3600.0));
  CHECK(c.running_in.excess.mid() == 0.2);
  CHECK(c.running_in.time.mid() == Approx(5.0 * 3600.0));  // the default's
  CHECK(c.running_in.time.basis == Basis::assumed);
  CHECK(c.points[0].running_time->mid() == Approx(7200.0));
  const study::Seal& seal = *c.variants[0].seal;
  CHECK(seal.over_pressure->mid() == Approx(2e4));
  CHECK(seal.available_width->mid() == Approx(8e-3));
  CHECK(seal.replaced_every->mid() == Approx(500.0 * 3600.0));
}

TEST_CASE("a contact among the extras stands somewhere", "[derived]") {
  const std::string dust = "[[variant.extra]]\nid = \"dust\"\nelement = \"dust-lip\"\n";
  const study::Case c = load(smallest + dust + "position = \"20 mm\"\nline_force = \"20 N/m\"\n");
  CHECK(c.variants[0].extras[0].position->mid() == Approx(0.020));
  CHECK(c.variants[0].extras[0].line_force->mid() == Approx(20.0));
  CHECK(has(complaint(smallest + dust), "variant.plain.extra.dust.position: missing"));
}

// --- complaints ---------------------------------------------------------------------------------

TEST_CASE("what cannot be meant is refused once, in words", "[derived]") {
  struct Row {
    std::string text;
    const char* said;
    const char* hint;
  };
  const auto row = GENERATE_COPY(values<Row>({
      {smallest + "override = { friction_law = \"mixd-film\" }\n",
       "friction_law: read \"mixd-film\"; expected one of mixed-film, constant, ptfe",
       "did you mean mixed-film?"},
      {with_lip(plain_lip + mixed_film + replaced(wedge, "springless", "springles")),
       "contact.own.service.form: read \"springles\"; expected one of spring-loaded, springless",
       "did you mean springless?"},
      {with_lip(plain_lip + mixed_film + replaced(wedge, "\"nbr\"", "\"nbz\"")),
       "contact.own.service.relaxation: read \"nbz\"", "did you mean nbr?"},
      {with_lip(plain_lip + mixed_film + replaced(wedge, "lip-flooded", "lip-floded")),
       "contact.own.service.wear: read \"lip-floded\"", "did you mean lip-flooded?"},
      {with_lip(plain_lip + mixed_film + "material = \"fkn\"\n"),
       "contact.own.material: read \"fkn\"", "did you mean fkm?"},
      {with_lip(plain_lip + mixed_film + "graphite = \"air \"\n"), "contact.own.graphite: read",
       "did you mean air?"},
      {with_lip(plain_lip + ptfe + "least_presure = \"1 kPa\"\n"),
       "contact.own.least_presure: there is no such key here", "did you mean least_pressure?"},
      {grounded("textile-ring-dense", "interference = \"0.2 mm\"\n"),
       "grounding.interference: textile-ring-dense is not described by its fibres", ""},
      {grounded("carbon-fibre-ring", "interference = \"0.2 mm\"\nline_force = \"3 N/m\"\n"),
       "read line_force and interference; expected exactly one of", ""},
      {grounded("metal-fibre-brush", "current = \"2 A\"\n"),
       "grounding.current: metal-fibre-brush has no contact_drop", ""},
      {replaced(smallest, "standard-lip", "ptfe-lip") + "over_pressure = \"10 kPa\"\n",
       "seal.over_pressure: ptfe-lip has no lip form in its service", ""},
      {replaced(smallest, "diameter = \"45 mm\"", "diameter = \"45 mm\"\nfit = \"H11\""),
       "shaft.rotor.fit: read \"H11\"", "did you mean h11?"},
      {smallest + "replaced_every = \"500 km\"\n", "seal.replaced_every: read \"500 km\"", ""},
      {grounded("carbon-fibre-ring",
                "[variant.grounding.override.fibres]\ncount = 1000\n"
                "packing = 0.2\n"),
       "read count and packing; expected exactly one of count, packing", ""},
  }));
  CAPTURE(row.text);
  const std::string said = complaint(row.text);
  CHECK(has(said, row.said));
  CHECK(has(said, row.hint));
}

TEST_CASE("fibres take an end factor for their lean, and a count for their packing", "[derived]") {
  const study::Case c = load(grounded("carbon-fibre-ring",
                                      "[variant.grounding.override.fibres]\nend_factor = 2\n"
                                      "count = 50000\n"));
  CHECK(ring_of(c).fibres->end_factor->mid() == 2.0);
  CHECK_FALSE(ring_of(c).fibres->lean_deg);
  CHECK(ring_of(c).fibres->count->mid() == 50000.0);
  CHECK_FALSE(ring_of(c).fibres->packing);
}

TEST_CASE("an unknown friction law is complained of alone", "[derived]") {
  const auto problems =
      problems_of(with_lip(plain_lip + "friction_law = \"constnt\"\nfriction = 0.1\n"));
  CHECK(problems.size() == 1);
  CHECK(std::ranges::any_of(problems, [](const input::Problem& problem) {
    return problem.hint == "did you mean constant?";
  }));
}

TEST_CASE("a variant may choose another friction law than its element", "[derived]") {
  const std::string text =
      smallest + "override = { friction_law = \"constant\", friction = 0.1 }\n";
  CHECK(problems_of(text).empty());
}

TEST_CASE("a pressure over a lip may come from either side, or be none", "[derived]") {
  for (const char* pressure : {"-10 kPa", "0 Pa", "5 ± 10 kPa"}) {
    CAPTURE(pressure);
    CHECK(problems_of(smallest + "over_pressure = \"" + pressure + "\"\n").empty());
  }
}

TEST_CASE("a contact may be looked at in its very first turn", "[derived]") {
  CHECK(
      problems_of(replaced(smallest, "oil_temperature", "running_time = \"0 h\"\noil_temperature"))
          .empty());
}

TEST_CASE("fibres and oil stay within what they can be", "[derived]") {
  const auto fibres = [](const std::string& line) {
    return grounded("carbon-fibre-ring", "[variant.grounding.override.fibres]\n" + line);
  };
  const auto text = GENERATE_COPY(values<std::string>({
      fibres("packing = 1.5\n"),
      fibres("share_in_contact = 2\n"),
      fibres("lean_deg = 120\n"),
      fibres("lean_deg = 0\n"),
      grounded(
          "textile-ring-in-oil",
          "line_force = \"0.01 N/mm\"\n[variant.grounding.override.oil]\nresidual_oil = 0.5\n"),
  }));
  CAPTURE(text);
  CHECK(has(complaint(text), "physical range"));
}

TEST_CASE("an extra does not take the name of the seal or the grounding", "[derived]") {
  for (const char* id : {"seal", "grounding"})
    CHECK(problems_of(smallest + "[[variant.extra]]\nid = \"" + id +
                      "\"\nelement = \"dust-lip\"\nposition = \"20 mm\"\n")
              .size() == 1);
}
