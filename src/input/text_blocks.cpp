#include "input/text_blocks.hpp"

#include <fmt/format.h>
#include <zlib.h>

#include <memory>
#include <stdexcept>
#include <string>
#include <system_error>

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

constexpr unsigned block_size = 256 * 1024;
/// Of the text of a log: a minute of a recorder at a million samples a second.
constexpr std::size_t largest_log = 1'000'000'000;

struct Closing {
  void operator()(gzFile file) const { gzclose_r(file); }
};
using Archive = std::unique_ptr<gzFile_s, Closing>;

[[noreturn]] void refuse(const std::string& why) { throw std::runtime_error(why); }

void require_file(const fs::path& file) {
  std::error_code failed;
  const fs::file_status status = fs::status(file, failed);
  if (!fs::exists(status)) refuse("there is no such file");
  if (!fs::is_regular_file(status)) refuse("is no regular file; expected a CSV file");
}

/// The next block of the text; empty at its end.
std::string_view next_block(gzFile archive, std::string& block) {
  const int got = gzread(archive, block.data(), block_size);
  int error = Z_OK;
  const char* why = gzerror(archive, &error);
  if (error == Z_BUF_ERROR) refuse("the archive ends before its text does");
  if (got < 0) refuse(fmt::format("cannot be read: {}", error == Z_ERRNO ? "I/O error" : why));
  return std::string_view(block).substr(0, static_cast<std::size_t>(got));
}

std::string utf8_of_latin1(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x80) {
      out += c;
    } else {
      out += static_cast<char>(0xC0 | (byte >> 6));
      out += static_cast<char>(0x80 | (byte & 0x3F));
    }
  }
  return out;
}

}  // namespace

void read_blocks(const fs::path& file, const std::function<void(std::string_view)>& take) {
  require_file(file);
  const Archive archive(gzopen(file.c_str(), "rb"));
  if (!archive) refuse("cannot be opened");
  gzbuffer(archive.get(), block_size);
  std::string block(block_size, '\0');
  for (auto text = next_block(archive.get(), block); !text.empty();
       text = next_block(archive.get(), block))
    take(text);
}

std::optional<FileText> read_log_text(const fs::path& file, Problems& problems) {
  FileText text;
  try {
    read_blocks(file, [&](std::string_view block) {
      if (text.content.size() + block.size() > largest_log)
        refuse(fmt::format("holds more than {} MB of text", largest_log / 1'000'000));
      text.content += block;
    });
    if (text.content.starts_with("\xEF\xBB\xBF")) text.content.erase(0, 3);
    if (text.content.find_first_not_of(" \t\r\n") == std::string::npos) refuse("is empty");
    if (text.content.find('\0') != std::string::npos)
      refuse("has a NUL byte: UTF-16 text or no text at all; save it as UTF-8");
  } catch (const std::runtime_error& error) {
    problems.add_for_file(file.string(), error.what());
    return std::nullopt;
  }
  if (first_not_utf8(text.content) != std::string::npos)
    text.content = utf8_of_latin1(text.content);
  text.sha256 = sha256_on_disk(file);
  return text;
}

}  // namespace ohmdrag::input
