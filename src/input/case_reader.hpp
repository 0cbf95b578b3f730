#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/reader.hpp"
#include "input/tables.hpp"
#include "ohmdrag/study/case.hpp"

namespace ohmdrag::input {

/// One pass over a case's tree. The sections stand in files of their own; each reads its tables
/// into `out`.
class CaseReader {
 public:
  CaseReader(const Node& root, const Catalogue::Tables& tables, Problems& problems,
             const std::string& fallback_title);

  study::Case read();

 private:
  // read_study.cpp
  void read_study();
  void read_service();
  void read_requirements();
  void read_allocations();
  void read_damage();
  void read_prices();
  void read_evidence();
  // read_draws.cpp
  void read_samples(TableReader& table);
  void read_correlations();
  void read_correlation(TableReader& table);
  /// Whether a dotted path leads to something in the case or the catalogue, and whether a `--set`
  /// put it there.
  struct Written {
    bool there = false, by_set = false;
  };
  Written where_written(std::string_view path) const;
  // read_vehicle.cpp
  void read_vehicle();
  void read_sump();
  // read_cleanliness.cpp
  void read_cleanliness(TableReader& sump);
  void settle_debris();
  // read_machine.cpp
  void read_shafts();
  void read_fit_of(TableReader& shaft_table, study::Shaft& shaft);
  void read_bearings();
  void read_type(TableReader& bearing, study::BearingType& out);
  // read_inverter.cpp
  void read_inverter();
  void read_modulation_index(TableReader& table, study::Inverter& inverter);
  void read_waveform(TableReader& table, study::Inverter& inverter);
  void read_coupling();
  Uncertain<Capacitance> over_air_gap(TableReader& coupling);
  // read_paths.cpp
  void read_insulation(TableReader& bearing_table, study::Bearing& bearing);
  void warn_of_missing_films(const study::Bearing& bearing);
  void read_paths_to_frame();
  void read_bands();
  void read_mesh(TableReader& path_table, study::PathToFrame& path);
  /// The [[gear]] that a path names.
  const study::ExtraDrag* gear_of(TableReader& path_table);
  void read_machine_power();
  // read_gear.cpp
  void read_gears();
  // read_measured.cpp
  study::Element read_measured(TableReader& extra, const std::string& id);
  // read_running.cpp
  void read_points();
  void read_running_in();
  void read_duties();
  // read_trips.cpp
  void read_trips(TableReader& table, study::Duty& duty);
  /// The shaft and the temperatures that go with the columns of its logs.
  void read_places_of(TableReader& table, const duty::TripColumns& columns, study::Duty& duty);
  // read_trade_ranges.cpp
  void read_trade_ranges();
  // read_ratios.cpp
  void read_ratios(TableReader& shaft_table, study::Shaft& shaft);
  /// Complains of a shaft speed where the other shafts do not follow from it.
  void need_one_ratio(TableReader& table);
  // read_load_profile.cpp
  void read_cycles(TableReader& table, study::Duty& duty);
  int repeats_of(TableReader& table, int otherwise);
  void repeat_cycles(TableReader& table, study::Duty& duty);
  void read_load_steps(TableReader& table, std::string_view kind, study::Duty& duty);
  void read_profile_repeats(TableReader& table, bool histogram, study::Duty& duty);
  /// The duty, or one for each of its start temperatures.
  void add_duty(TableReader& table, study::Duty duty);
  /// Those of `out`, and the ids as written that several start temperatures share.
  std::vector<std::string> duty_ids() const;
  // read_variants.cpp
  void read_variants();
  std::optional<study::Seal> read_seal(TableReader& variant);
  std::optional<study::Grounding> read_grounding(TableReader& variant);
  void read_path(TableReader& grounding, study::Grounding& out);
  // read_impedance.cpp
  void read_film(TableReader& grounding, study::Grounding& out);
  void read_impedance(TableReader& grounding, study::Grounding& out);
  study::ExtraDrag read_extra(TableReader extra);
  study::Element element_of(TableReader& user);
  void derive_evidence();

  // case_reader.cpp
  void read_own_entries();
  /// The entry of the catalogue with the case's own of the same id laid over it.
  std::optional<Node> entry(std::string_view section, std::string_view id) const;
  std::vector<std::string> entry_ids(std::initializer_list<std::string_view> sections) const;
  /// The id, complained of unless it is among the known.
  std::string id_text(TableReader& table);
  std::string known_id(TableReader& table, std::string_view key,
                       const std::vector<std::string>& known, std::string_view kind);
  /// The shaft a table names; the only one, or "rotor", where it names none.
  std::string shaft_of(TableReader& table);
  const Node* fallback(std::string_view section, std::string_view key) const;
  std::vector<std::string> ids_of(std::string_view array) const;
  void warn(std::string text);

  const Node& root_;
  const Catalogue::Tables& tables_;
  std::vector<std::string> warnings_;
  ReadContext context_;
  TableReader top_;
  std::string fallback_title_;
  std::vector<study::ExtraDrag> gears_;  ///< of every variant
  study::Case out_;
};

}  // namespace ohmdrag::input
