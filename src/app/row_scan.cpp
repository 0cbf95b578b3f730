#include "app/row_scan.hpp"

#include <fmt/format.h>
#include <zlib.h>

#include <charconv>
#include <fstream>
#include <stdexcept>
#include <string_view>
#include <vector>

#include "app/sweep_head.hpp"

namespace ohmdrag::app {
namespace {

constexpr std::size_t block_size = std::size_t{64} * 1024;
/// Far beyond any line or member of a sweep; a file of another kind must not fill the memory.
constexpr std::size_t longest_text = 64'000'000;

[[noreturn]] void refuse(const std::string& why) { throw std::runtime_error(why); }

/// Reads lines as they come and counts the rows they begin.
class RowLines {
 public:
  void feed(std::string_view text) {
    while (!text.empty()) {
      const std::size_t end = text.find('\n');
      line_ += text.substr(0, end == std::string_view::npos ? end : end + 1);
      if (line_.size() > longest_text) refuse("is no file of a sweep");
      if (end == std::string_view::npos) return;
      take(line_);
      at_ += line_.size();
      line_.clear();
      text.remove_prefix(end + 1);
    }
  }

  bool inside_line() const { return !line_.empty(); }
  bool has_head() const { return named_; }
  const std::string& head() const { return head_; }
  std::size_t rows() const { return rows_; }
  std::uintmax_t last_row_begins() const { return last_row_; }  ///< in bytes of text
  std::uintmax_t end_of_lines() const { return at_; }

 private:
  void take(const std::string& line) {
    if (!named_) {
      if (head_.empty() && !line.starts_with(first_words_of_sweep)) refuse("is no file of a sweep");
      head_ += line;
      named_ = !line.starts_with('#');
      if (head_.size() > longest_text) refuse("is no file of a sweep");
      return;
    }
    std::size_t row = 0;
    const char* const end = line.data() + line.size();
    const auto [stop, error] = std::from_chars(line.data(), end, row);
    if (error != std::errc{} || stop == end || *stop != ',' || row < rows_ || row > rows_ + 1 ||
        row == 0)
      refuse(fmt::format("has a line after row {} that is none of row {} or {}", rows_, rows_,
                         rows_ + 1));
    if (row > rows_) last_row_ = at_;
    rows_ = row;
  }

  std::string line_, head_;
  bool named_ = false;
  std::size_t rows_ = 0;
  std::uintmax_t at_ = 0, last_row_ = 0;
};

RowsFound scan_plain(std::ifstream& in) {
  RowLines lines;
  std::string block(block_size, '\0');
  while (in.read(block.data(), block_size), in.gcount() > 0)
    lines.feed(std::string_view(block).substr(0, static_cast<std::size_t>(in.gcount())));
  if (!lines.has_head()) refuse("is no file of a sweep");
  if (lines.rows() == 0) return {lines.head(), 0, lines.end_of_lines(), {}, 1};
  return {lines.head(), lines.rows() - 1, lines.last_row_begins(), {}, 1};
}

/// Unpacks member after member (RFC 1952, section 2.2).
class Unpacker {
 public:
  Unpacker() {
    constexpr int gzip_only = 16;
    if (inflateInit2(&stream_, MAX_WBITS + gzip_only) != Z_OK) throw std::bad_alloc();
  }
  ~Unpacker() { inflateEnd(&stream_); }
  Unpacker(const Unpacker&) = delete;
  Unpacker& operator=(const Unpacker&) = delete;

  enum class State { wants_more, member_ends, damaged };

  /// Adds to the text of the member; takes from the front of the bytes what it used.
  State unpack(std::string_view& bytes, std::string& text) {
    std::string out(block_size, '\0');
    while (true) {
      stream_.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
      stream_.avail_in = static_cast<uInt>(bytes.size());
      stream_.next_out = reinterpret_cast<Bytef*>(out.data());
      stream_.avail_out = static_cast<uInt>(out.size());
      const int result = inflate(&stream_, Z_NO_FLUSH);
      bytes.remove_prefix(bytes.size() - stream_.avail_in);
      text.append(out, 0, out.size() - stream_.avail_out);
      if (text.size() > longest_text) refuse("is no file of a sweep");
      if (result == Z_STREAM_END) {
        inflateReset(&stream_);
        return State::member_ends;
      }
      if (result == Z_BUF_ERROR || (result == Z_OK && bytes.empty() && stream_.avail_out > 0))
        return State::wants_more;
      if (result != Z_OK) return State::damaged;
    }
  }

 private:
  z_stream stream_{};
};

RowsFound scan_zipped(std::ifstream& in) {
  RowLines lines;
  Unpacker unpacker;
  RowsFound found;
  found.rows_in_one = rows_of_member;
  std::string block(block_size, '\0');
  std::string text;                   // of the member being read
  std::uintmax_t read = 0, full = 0;  // bytes: in all, of full members
  bool damaged = false;
  while (!damaged && (in.read(block.data(), block_size), in.gcount() > 0)) {
    std::string_view bytes(block.data(), static_cast<std::size_t>(in.gcount()));
    read += bytes.size();
    while (!damaged && !bytes.empty()) {
      const auto state = unpacker.unpack(bytes, text);
      damaged = state == Unpacker::State::damaged;
      if (state != Unpacker::State::member_ends) break;
      lines.feed(text);
      if (lines.inside_line()) refuse("has a member that ends within a line");
      if (lines.rows() % rows_of_member == 0) {
        full = read - bytes.size();
        found.pending.clear();
      } else {
        found.pending += text;
      }
      text.clear();
    }
  }
  if (!lines.has_head()) refuse("is no file of a sweep");
  found.head = lines.head();
  found.rows = lines.rows();
  found.keep = full;
  return found;
}

}  // namespace

RowsFound scan_rows(const std::filesystem::path& file, bool zipped) {
  std::ifstream in(file, std::ios::binary);
  if (!in) refuse("cannot be read");
  return zipped ? scan_zipped(in) : scan_plain(in);
}

}  // namespace ohmdrag::app
