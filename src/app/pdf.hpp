#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace ohmdrag::app {

/// The installed Chromium, found on PATH under its usual names; none: there is none.
std::optional<std::filesystem::path> installed_chromium();

/// Prints an HTML page with it, on A4 as the page's style says, without the time of printing.
///
/// \param target  the file to write; an existing one is replaced only by a whole new one
/// \throws WriteError if there is no Chromium, it fails, or it is not done within two minutes
void print_pdf(const std::string& html, const std::filesystem::path& target);

}  // namespace ohmdrag::app
