#include "app/files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace ohmdrag::app {
namespace {

[[noreturn]] void fail(const std::filesystem::path& target, int error) {
  throw WriteError("cannot write " + target.string() + ": " + std::strerror(error));
}

}  // namespace

void write_file(const std::filesystem::path& target, const std::string& content) {
  std::error_code problem;
  if (target.has_parent_path()) {
    std::filesystem::create_directories(target.parent_path(), problem);
    if (problem) fail(target, problem.value());
  }
  std::string beside = target.string() + ".XXXXXX";
  const int file = ::mkstemp(beside.data());
  if (file < 0) fail(target, errno);
  std::size_t done = 0;
  int error = 0;
  while (error == 0 && done < content.size()) {
    const ssize_t n = ::write(file, content.data() + done, content.size() - done);
    if (n < 0 && errno != EINTR) error = errno;
    if (n > 0) done += static_cast<std::size_t>(n);
  }
  // A full disk may show only when the data reach it.
  if (error == 0 && ::fsync(file) != 0 && errno != EINVAL) error = errno;
  if (error == 0 && ::fchmod(file, 0644) != 0) error = errno;
  if (::close(file) != 0 && error == 0) error = errno;
  if (error == 0 && ::rename(beside.c_str(), target.c_str()) != 0) error = errno;
  if (error != 0) {
    ::unlink(beside.c_str());
    fail(target, error);
  }
}

}  // namespace ohmdrag::app
