#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/study/compare.hpp"

namespace ohmdrag::input {

/// Two case files, the keys in which they differ, and every case between them.
///
/// Compared as written: tables key by key, arrays of tables by id, all else as a whole; a file that
/// a key names counts as changed if its bytes are others. What `like` and `change` do with a key
/// goes with it. Keys that say the same in two ways (line_force, total_radial_force) are one
/// change.
class CaseBlend {
 public:
  /// \throws InputError if one of the two cases cannot be read
  CaseBlend(const std::filesystem::path& before, const LoadOptions& options_before,
            const std::filesystem::path& after, const LoadOptions& options_after);
  ~CaseBlend();
  CaseBlend(const CaseBlend&) = delete;
  CaseBlend& operator=(const CaseBlend&) = delete;

  const study::Case& before() const;
  const study::Case& after() const;
  /// By key.
  const std::vector<study::InputChange>& changes() const;
  /// One side with some changes as they stand on the other; none if such a case has a problem.
  std::optional<study::Case> between(study::Side of, std::span<const std::size_t> changes) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace ohmdrag::input
