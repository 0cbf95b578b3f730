#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/duty/cycle.hpp"
#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/materials.hpp"

namespace ohmdrag::input {

/// One parameter of an entry: a number, or words such as a kind, a form or the name of another
/// entry.
struct ListedValue {
  std::string name;  ///< dotted, below the entry: "resistance.bulk", "points.1.ratio"
  std::string key;   ///< the whole of it, as a case overrides it: "contact.my-ring.resistance.bulk"
  std::string text;  ///< as it was written, spread and scatter included
  std::optional<CheckedValue> number;  ///< SI with basis and source; none: words
};

/// One entry for `ohmdrag list`, everything that its table says in the order of the file.
struct ListedEntry {
  std::string id;   ///< as cases name it; materials with their section, "relaxation.fkm"
  std::string key;  ///< with its section, "contact.standard-lip"
  std::string title;
  std::optional<Basis> basis;  ///< of the entry as a whole
  std::string source;          ///< likewise; may be empty
  std::vector<ListedValue> values;
};

/// A named frequency band of data/bands.toml.
struct BandEntry {
  std::string id;
  std::string title;
  Frequency from;
  Frequency to;
  Basis basis = Basis::assumed;
  std::string source;
};

/// What ships inside the program, overridden entry by entry by the user's data folder. Files are
/// parsed when something asks for one of their entries, cycles one by one.
///
/// Every function throws InputError if an entry cannot be read, std::invalid_argument for an id
/// that does not exist.
class Catalogue {
 public:
  Catalogue();  ///< the built-in entries alone
  explicit Catalogue(const std::filesystem::path& data_folder);
  ~Catalogue();
  Catalogue(Catalogue&&) noexcept;
  Catalogue& operator=(Catalogue&&) noexcept;

  /// Words that `entries` knows: lubricants, materials, fits, machines, contacts, rules, bearings,
  /// laws, bands, current-densities, cycles. Materials are steel and all of
  /// data/seal_materials.toml.
  static const std::vector<std::string>& kinds();
  std::vector<ListedEntry> entries(std::string_view kind) const;

  std::vector<std::string> ids(std::string_view kind) const;
  study::Lubricant lubricant(std::string_view id) const;
  study::Element element(std::string_view id) const;  ///< contacts and rules share one name space
  study::BearingType bearing(std::string_view size) const;
  study::DamageLaw current_density_law() const;
  study::DischargeConstants discharge() const;
  study::Fit fit(std::string_view id) const;
  std::vector<BandEntry> bands() const;
  std::vector<study::DensityBand> density_bands() const;  ///< in the order of the file
  duty::Cycle cycle(std::string_view id) const;

  struct Tables;
  const Tables& tables() const { return *tables_; }  ///< for the readers of this room

 private:
  std::unique_ptr<Tables> tables_;
};

/// The built-in catalogue, or with a data folder the overridden one.
Catalogue load_catalogue(const std::optional<std::filesystem::path>& data_folder = {});

}  // namespace ohmdrag::input
