#include "input/design_list.hpp"

#include <fmt/format.h>
#include <openssl/evp.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <memory>
#include <set>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "input/design_axis.hpp"
#include "input/files.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

using Cells = std::vector<std::string>;

/// The cells of a line; nothing where a quote is not closed.
std::optional<Cells> cells_of(std::string_view line, char separator) {
  Cells cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"')
      cells.back() += line[++i];
    else if (c == '"')
      quoted = !quoted;
    else if (c == separator && !quoted)
      cells.emplace_back();
    else
      cells.back() += c;
  }
  if (quoted) return std::nullopt;
  for (std::string& cell : cells) cell = std::string(without_blanks(cell));
  return cells;
}

char separator_of(std::string_view head) {
  for (const char separator : {';', '\t'})
    if (head.find(separator) != std::string_view::npos) return separator;
  return ',';
}

/// Lines that say something, one after another.
class Lines {
 public:
  explicit Lines(const fs::path& file) : in_(file, std::ios::binary) {}

  bool next(std::string& line) {
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    while (std::getline(in_, line)) {
      if (++number_ == 1 && line.starts_with(byte_order_mark))
        line.erase(0, byte_order_mark.size());
      const std::string_view text = without_blanks(line);
      if (!text.empty() && !text.starts_with('#')) return true;
    }
    return false;
  }
  std::size_t number() const { return number_; }

 private:
  std::ifstream in_;
  std::size_t number_ = 0;
};

std::string sha256_of_file(const fs::path& file) {
  const std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> hash(EVP_MD_CTX_new(),
                                                                     EVP_MD_CTX_free);
  EVP_DigestInit_ex(hash.get(), EVP_sha256(), nullptr);
  std::ifstream in(file, std::ios::binary);
  std::vector<char> block(256 * 1024);
  while (in.read(block.data(), static_cast<std::streamsize>(block.size())), in.gcount() > 0)
    EVP_DigestUpdate(hash.get(), block.data(), static_cast<std::size_t>(in.gcount()));
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned length = 0;
  EVP_DigestFinal_ex(hash.get(), digest.data(), &length);
  std::string hex;
  for (unsigned i = 0; i < length; ++i) hex += fmt::format("{:02x}", digest[i]);
  return hex;
}

/// Hands out rows in rising order; goes back to the first when an earlier one is asked for.
class ListedRows {
 public:
  ListedRows(fs::path file, char separator, std::size_t columns)
      : file_(std::move(file)), separator_(separator), columns_(columns) {}

  Cells row(std::size_t asked) {
    std::string line;
    if (!lines_ || asked < next_) {
      lines_ = std::make_unique<Lines>(file_);
      lines_->next(line);  // the head
      next_ = 0;
    }
    for (; next_ <= asked; ++next_)
      if (!lines_->next(line)) changed();
    auto cells = cells_of(line, separator_);
    if (!cells || cells->size() != columns_) changed();
    return std::move(*cells);
  }

 private:
  [[noreturn]] void changed() const {
    throw std::runtime_error(file_.string() + " was changed while it was read");
  }

  fs::path file_;
  char separator_;
  std::size_t columns_;
  std::unique_ptr<Lines> lines_;
  std::size_t next_ = 0;
};

study::DesignAxis axis_of_head(const std::string& head) {
  study::DesignAxis axis;
  const std::size_t open = head.rfind('[');
  if (head.ends_with(']') && open != std::string::npos) {
    const std::string_view unit =
        without_blanks(std::string_view(head).substr(open + 1, head.size() - open - 2));
    if (is_unit(unit)) {
      axis.unit = unit;
      axis.key = without_blanks(std::string_view(head).substr(0, open));
      return axis;
    }
  }
  axis.key = head;
  return axis;
}

}  // namespace

std::optional<study::Design> read_design_list(const fs::path& file, Problems& problems) {
  std::error_code failed;
  const fs::file_status status = fs::status(file, failed);
  const auto refuse = [&](std::string why) {
    problems.add_for_file(file.string(), std::move(why));
    return std::nullopt;
  };
  if (!fs::exists(status)) return refuse("there is no such file");
  if (!fs::is_regular_file(status)) return refuse("is no regular file; expected a CSV file");

  Lines lines(file);
  std::string line;
  if (!lines.next(line)) return refuse("is empty or cannot be read; expected a line of keys");
  auto name = std::make_shared<SourceText>();
  name->name = file.string();
  const auto complain = [&](std::string what, std::string hint = {}) {
    problems.add({name, lines.number(), 1, 1}, {}, std::move(what), std::move(hint));
    return std::nullopt;
  };
  const auto sound = [&] {
    return first_not_utf8(line) == std::string_view::npos && line.find('\0') == std::string::npos;
  };
  const char separator = separator_of(line);
  const auto heads = cells_of(line, separator);
  if (!sound() || !heads) return complain("is no line of keys", "save the file as UTF-8 text");

  study::Design design;
  design.kind = study::DesignKind::list;
  std::set<std::string> keys;
  for (const std::string& head : *heads) {
    design.axes.push_back(axis_of_head(head));
    const std::string& key = design.axes.back().key;
    check_key(key, {name, lines.number(), 1, 1}, problems);
    if (!keys.insert(key).second) return complain(fmt::format("names {} twice", key));
  }
  while (lines.next(line)) {
    if (!sound()) return complain("is no UTF-8 text");
    const auto cells = cells_of(line, separator);
    if (!cells) return complain("has a quote that is not closed");
    if (cells->size() != heads->size())
      return complain(fmt::format("has {} cells under {} keys", cells->size(), heads->size()),
                      "a cell that holds a separator stands in quotes");
    ++design.rows;
  }
  if (design.rows == 0) return refuse("has no rows under its keys");
  design.sha256 = sha256_of_file(file);
  const auto rows = std::make_shared<ListedRows>(file, separator, heads->size());
  design.cells = [rows](std::size_t row) { return rows->row(row); };
  return design;
}

}  // namespace ohmdrag::input
