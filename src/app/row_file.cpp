#include "app/row_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>
#include <zlib.h>

#include <cerrno>
#include <cstring>
#include <new>
#include <utility>

#include "app/commands.hpp"
#include "app/files.hpp"

namespace ohmdrag::app {

namespace fs = std::filesystem;

namespace {

bool is_zipped(const fs::path& file) { return file.extension() == ".gz"; }

/// One gzip member (RFC 1952) without name or time, so that the same text gives the same bytes.
std::string member_of(const std::string& text) {
  constexpr int gzip_only = 16, usual_memory = 8;
  z_stream stream{};
  if (deflateInit2(&stream, Z_DEFAULT_COMPRESSION, Z_DEFLATED, MAX_WBITS + gzip_only, usual_memory,
                   Z_DEFAULT_STRATEGY) != Z_OK)
    throw std::bad_alloc();
  std::string out(deflateBound(&stream, text.size()), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data()));
  stream.avail_in = static_cast<uInt>(text.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  const int result = deflate(&stream, Z_FINISH);
  out.resize(stream.total_out);
  deflateEnd(&stream);
  if (result != Z_STREAM_END) throw std::bad_alloc();
  return out;
}

}  // namespace

RowFile RowFile::begin(const fs::path& file, const std::string& head) {
  if (fs::exists(fs::symlink_status(file)))
    throw UsageError(fmt::format(
        "{} is there already; --resume goes on with it, or name another file", file.string()));
  write_file(file, is_zipped(file) ? member_of(head) : head);
  return go_on(file);
}

RowFile RowFile::go_on(const fs::path& file) {
  const int descriptor = ::open(file.c_str(), O_RDWR | O_CLOEXEC);
  RowFile out(file, {}, descriptor);
  if (descriptor < 0) out.fail(errno);
  if (::flock(descriptor, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK)
    throw UsageError(fmt::format("{} is being written by another sweep", file.string()));
  try {
    out.found_ = scan_rows(file, is_zipped(file));
  } catch (const std::runtime_error& error) {
    throw UsageError(fmt::format("{} {}", file.string(), error.what()));
  }
  return out;
}

RowFile::RowFile(fs::path file, RowsFound found, int descriptor)
    : file_(std::move(file)), found_(std::move(found)), descriptor_(descriptor) {}

RowFile::RowFile(RowFile&& other) noexcept
    : file_(std::move(other.file_)),
      found_(std::move(other.found_)),
      descriptor_(std::exchange(other.descriptor_, -1)),
      at_end_(other.at_end_) {}

RowFile::~RowFile() {
  if (descriptor_ >= 0) ::close(descriptor_);
}

void RowFile::fail(int error) const {
  const std::string after =
      found_.rows == 0 ? "" : "; --resume goes on after the last whole row that is in it";
  throw WriteError(
      fmt::format("cannot write {}: {}{}", file_.string(), std::strerror(error), after));
}

void RowFile::add(const std::string& lines) {
  found_.pending += lines;
  ++found_.rows;
  if (found_.rows % found_.rows_in_one == 0) flush();
}

void RowFile::close() {
  flush();
  if (::fsync(descriptor_) != 0 && errno != EINVAL) fail(errno);
}

void RowFile::flush() {
  if (found_.pending.empty()) return;
  write(is_zipped(file_) ? member_of(found_.pending) : found_.pending);
  found_.pending.clear();
}

void RowFile::write(const std::string& bytes) {
  const auto cut_back = [&] { return ::ftruncate(descriptor_, static_cast<off_t>(found_.keep)); };
  if (!at_end_) {
    if (cut_back() != 0 || ::lseek(descriptor_, 0, SEEK_END) < 0) fail(errno);
    at_end_ = true;
  }
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t n = ::write(descriptor_, bytes.data() + done, bytes.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) {
      const int error = errno;
      if (cut_back() != 0) fail(errno);
      fail(error);
    }
    done += static_cast<std::size_t>(n);
  }
  found_.keep += bytes.size();
}

}  // namespace ohmdrag::app
