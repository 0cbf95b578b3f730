#include "input/files.hpp"

#include <fmt/format.h>
#include <openssl/evp.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <fstream>
#include <system_error>
#include <utility>
#include <vector>

#include "input/document.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

/// More than any case with all its tables needs, and read in well under a second.
constexpr std::uintmax_t largest_file = 20'000'000;

std::size_t line_of(std::string_view text, std::size_t offset) {
  return 1 + static_cast<std::size_t>(std::ranges::count(text.substr(0, offset), '\n'));
}

/// Reads files with their includes, depth first, and sees to it that none includes itself.
class Includer {
 public:
  Includer(Problems& problems, study::Provenance& provenance)
      : problems_(problems), provenance_(provenance) {}

  Node tree(FileText text, const fs::path& file) {
    const fs::path real = fs::weakly_canonical(file);
    open_.push_back(real);
    Node own = parse_document(text.content, file.string(), problems_);
    Node whole;
    for (const auto& [name, place] : names_in(own)) {
      const fs::path next = file.parent_path() / name;
      if (std::ranges::find(open_, fs::weakly_canonical(next)) != open_.end()) {
        problems_.add(place, "include",
                      fmt::format("read \"{}\", which includes this file in turn", name),
                      "includes may not run in a circle");
        continue;
      }
      Problems of_file;
      auto included = read_file(next, of_file);
      if (!included) {
        try {
          of_file.throw_if_any();
        } catch (const InputError& error) {
          problems_.add(place, "include",
                        fmt::format("{}: {}", next.string(), error.problems.front().what));
        }
        continue;
      }
      provenance_.includes.push_back({next.string(), included->sha256});
      merge(whole, tree(std::move(*included), next));
    }
    std::erase_if(own.children, [](const Node& child) { return child.key == "include"; });
    merge(whole, own);
    whole.place = own.place;
    open_.pop_back();
    return whole;
  }

 private:
  std::vector<std::pair<std::string, Place>> names_in(const Node& own) {
    std::vector<std::pair<std::string, Place>> names;
    const Node* include = own.find("include");
    if (!include) return names;
    const auto take = [&](const Node& item) {
      if (item.is_text())
        names.emplace_back(item.text, item.place);
      else
        problems_.add(item.place, "include",
                      fmt::format("read {}; expected a file name in quotes", item.as_typed()));
    };
    if (include->is_array())
      std::ranges::for_each(include->children, take);
    else
      take(*include);
    return names;
  }

  Problems& problems_;
  study::Provenance& provenance_;
  std::vector<fs::path> open_;
};

}  // namespace

std::size_t first_not_utf8(std::string_view text) {
  std::size_t i = 0;
  while (i < text.size()) {
    const auto byte = [&](std::size_t k) {
      return i + k < text.size() ? static_cast<unsigned char>(text[i + k]) : 0U;
    };
    const auto tail = [&](std::size_t k) { return (byte(k) & 0xC0U) == 0x80U; };
    const unsigned lead = byte(0);
    std::size_t length = 0;
    if (lead < 0x80U)
      length = 1;
    else if (lead >= 0xC2U && lead <= 0xDFU && tail(1))
      length = 2;
    else if (lead >= 0xE0U && lead <= 0xEFU && tail(1) && tail(2) &&
             !(lead == 0xE0U && byte(1) < 0xA0U) && !(lead == 0xEDU && byte(1) > 0x9FU))
      length = 3;
    else if (lead >= 0xF0U && lead <= 0xF4U && tail(1) && tail(2) && tail(3) &&
             !(lead == 0xF0U && byte(1) < 0x90U) && !(lead == 0xF4U && byte(1) > 0x8FU))
      length = 4;
    else
      return i;
    i += length;
  }
  return std::string_view::npos;
}

fs::path file_named_by(const Node& node) {
  const bool in_file = node.place.text && node.place.text->numbered;
  return (in_file ? fs::path{node.place.text->name}.parent_path() : fs::path{}) / node.text;
}

std::string sha256(std::string_view bytes) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned length = 0;
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1)
    throw std::runtime_error("the crypto library cannot compute SHA-256");
  std::string hex;
  for (unsigned i = 0; i < length; ++i) hex += fmt::format("{:02x}", digest[i]);
  return hex;
}

std::string sha256_on_disk(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return sha256(std::string(std::istreambuf_iterator<char>(in), {}));
}

std::optional<FileText> read_file(const fs::path& file, Problems& problems) {
  const auto refuse = [&](std::string what, std::string hint = {}) {
    problems.add_for_file(file.string(), std::move(what), std::move(hint));
    return std::nullopt;
  };
  std::error_code failed;
  const fs::file_status status = fs::status(file, failed);
  if (!fs::exists(status)) {
    if (status.type() == fs::file_type::not_found) return refuse("there is no such file");
    return refuse(fmt::format("cannot be read: {}", failed.message()));
  }
  if (fs::is_directory(status)) return refuse("is a folder; expected a TOML file");
  if (!fs::is_regular_file(status)) return refuse("is no regular file; expected a TOML file");
  const std::uintmax_t size = fs::file_size(file, failed);
  if (!failed && size > largest_file)
    return refuse(fmt::format("is {} MB large; a case file is at most {} MB", size / 1'000'000,
                              largest_file / 1'000'000));
  std::ifstream in(file, std::ios::binary);
  if (!in) return refuse(fmt::format("cannot be read: {}", std::generic_category().message(errno)));
  FileText text;
  text.content.assign(std::istreambuf_iterator<char>(in), {});
  if (in.bad()) return refuse("cannot be read to its end");
  text.sha256 = sha256(text.content);
  if (text.content.starts_with("\xEF\xBB\xBF")) text.content.erase(0, 3);
  if (text.content.find_first_not_of(" \t\r\n") == std::string::npos) return refuse("is empty");
  if (const std::size_t at = text.content.find('\0'); at != std::string::npos)
    return refuse(
        fmt::format("has a NUL byte in line {}; expected UTF-8 text", line_of(text.content, at)),
        "UTF-16 text has such bytes; save it as UTF-8");
  if (const std::size_t at = first_not_utf8(text.content); at != std::string::npos)
    return refuse(
        fmt::format("is not UTF-8 text: a wrong byte in line {}", line_of(text.content, at)),
        "save it as UTF-8");
  return text;
}

Node case_tree_from_text(FileText text, const fs::path& file, Problems& problems,
                         study::Provenance& provenance) {
  provenance.file = file.string();
  provenance.sha256 = text.sha256;
  return Includer{problems, provenance}.tree(std::move(text), file);
}

std::string hash_of_named_file(const Node& node) {
  if (!node.is_text() || node.text.find('.') == std::string::npos) return {};
  std::error_code none;
  const fs::path file = file_named_by(node);
  return fs::is_regular_file(file, none) ? sha256_on_disk(file) : std::string{};
}

Node read_case_tree(const fs::path& file, Problems& problems, study::Provenance& provenance) {
  std::optional<FileText> text = read_file(file, problems);
  if (!text) return {};
  return case_tree_from_text(std::move(*text), file, problems, provenance);
}

}  // namespace ohmdrag::input
