#include "ohmdrag/input/embedded_data.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace ohmdrag::input {

/// A row of the generated table: the linker knows only where the bytes begin and end.
struct EmbeddedRange {
  const char* path;
  const char* begin;
  const char* end;
};

}  // namespace ohmdrag::input

#include "embedded_table.hpp"  // generated, see embed_data.cmake

namespace ohmdrag::input {

std::span<const EmbeddedFile> embedded_files() {
  static const auto files = [] {
    std::array<EmbeddedFile, embedded_table.size()> all;
    std::ranges::transform(embedded_table, all.begin(), [](const EmbeddedRange& r) {
      return EmbeddedFile{r.path, {r.begin, static_cast<std::size_t>(r.end - r.begin)}};
    });
    std::ranges::sort(all, {}, &EmbeddedFile::path);
    return all;
  }();
  return files;
}

std::optional<std::string_view> embedded(std::string_view path) {
  const auto files = embedded_files();
  const auto found = std::ranges::lower_bound(files, path, {}, &EmbeddedFile::path);
  if (found == files.end() || found->path != path) return std::nullopt;
  return found->content;
}

}  // namespace ohmdrag::input
