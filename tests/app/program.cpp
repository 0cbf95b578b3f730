#include "program.hpp"
#include "support/in_source.hpp"

#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <sched.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <sstream>

namespace ohmdrag::test {

namespace fs = std::filesystem;

namespace {

struct Pipe {
  int read_end = -1;
  int write_end = -1;
};

Pipe pipe_for_child() {
  std::array<int, 2> ends{};
  REQUIRE(::pipe2(ends.data(), O_CLOEXEC) == 0);
  return {ends[0], ends[1]};
}

Pipe terminal_for_child() {
  Pipe ends;
  REQUIRE(::openpty(&ends.read_end, &ends.write_end, nullptr, nullptr, nullptr) == 0);
  ::fcntl(ends.read_end, F_SETFD, FD_CLOEXEC);
  ::fcntl(ends.write_end, F_SETFD, FD_CLOEXEC);
  return ends;
}

void keep_to_one_processor() {
  cpu_set_t allowed;
  CPU_ZERO(&allowed);
  ::sched_getaffinity(0, sizeof allowed, &allowed);
  cpu_set_t one;
  CPU_ZERO(&one);
  for (std::size_t i = 0; i < CPU_SETSIZE; ++i)
    if (CPU_ISSET(i, &allowed)) {
      CPU_SET(i, &one);
      break;
    }
  ::sched_setaffinity(0, sizeof one, &one);
}

[[noreturn]] void become(const Arguments& command, const Surroundings& around, int out, int err) {
  const int nothing = ::open("/dev/null", O_RDONLY | O_CLOEXEC);
  if (around.out_to) out = ::open(around.out_to->c_str(), O_WRONLY | O_CLOEXEC);
  ::dup2(nothing, STDIN_FILENO);
  ::dup2(out, STDOUT_FILENO);
  ::dup2(err, STDERR_FILENO);
  if (!around.folder.empty() && ::chdir(around.folder.c_str()) != 0) ::_exit(126);
  for (const auto& [name, value] : around.environment) ::setenv(name.c_str(), value.c_str(), 1);
  if (around.largest_file_bytes) {
    // With the signal ignored the write itself fails, as it does on a full disk.
    std::signal(SIGXFSZ, SIG_IGN);
    const rlimit limit{*around.largest_file_bytes, *around.largest_file_bytes};
    ::setrlimit(RLIMIT_FSIZE, &limit);
  }
  if (around.on_one_processor) keep_to_one_processor();
  if (around.user && ::setuid(static_cast<uid_t>(*around.user)) != 0) ::_exit(126);
  std::vector<char*> words;
  for (const std::string& word : command) words.push_back(const_cast<char*>(word.c_str()));
  words.push_back(nullptr);
  ::execvp(words[0], words.data());
  ::_exit(127);
}

/// Reads both ends until the program has closed them.
void drain(int out, std::string& out_text, int err, std::string& err_text) {
  std::array<pollfd, 2> ends{pollfd{out, POLLIN, 0}, pollfd{err, POLLIN, 0}};
  std::array<std::string*, 2> texts{&out_text, &err_text};
  std::array<char, 65536> some{};
  while (ends[0].fd >= 0 || ends[1].fd >= 0) {
    if (::poll(ends.data(), ends.size(), -1) < 0 && errno != EINTR) break;
    for (std::size_t i = 0; i < ends.size(); ++i) {
      if (ends[i].fd < 0 || ends[i].revents == 0) continue;
      // A terminal whose other end is closed answers with an error, not with an end of file.
      const ssize_t n = ::read(ends[i].fd, some.data(), some.size());
      if (n > 0)
        texts[i]->append(some.data(), static_cast<std::size_t>(n));
      else
        ends[i].fd = -1;
    }
  }
}

double seconds(const timeval& t) {
  return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
}

}  // namespace

Ran ran(const Arguments& command, const Surroundings& around) {
  const Pipe out = around.on_terminal ? terminal_for_child() : pipe_for_child();
  const Pipe err = around.errors_on_terminal ? terminal_for_child() : pipe_for_child();
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) become(command, around, out.write_end, err.write_end);
  ::close(out.write_end);
  ::close(err.write_end);
  Ran result;
  drain(out.read_end, result.out, err.read_end, result.err);
  ::close(out.read_end);
  ::close(err.read_end);
  int status = 0;
  rusage used{};
  REQUIRE(::wait4(child, &status, 0, &used) == child);
  result.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  result.cpu_s = seconds(used.ru_utime) + seconds(used.ru_stime);
  return result;
}

std::string built_program() { return OHMDRAG_PROGRAM; }

Ran ohmdrag(Arguments arguments, const Surroundings& around) {
  arguments.insert(arguments.begin(), built_program());
  return ran(arguments, around);
}

const Ran& ohmdrag_once(const Arguments& arguments) {
  static std::map<Arguments, Ran> known;
  const auto found = known.find(arguments);
  return found != known.end() ? found->second
                              : known.emplace(arguments, ohmdrag(arguments)).first->second;
}

std::vector<fs::path> shipped_cases() {
  std::vector<fs::path> cases;
  for (const auto& entry : fs::directory_iterator(test::in_source("cases")))
    if (fs::exists(entry.path() / "case.toml")) cases.push_back(entry.path() / "case.toml");
  std::ranges::sort(cases);
  REQUIRE(cases.size() >= 4);
  return cases;
}

fs::path shipped_case(const std::string& name) {
  return fs::path{test::in_source("cases")} / name / "case.toml";
}

std::string file_text(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  CAPTURE(file);
  REQUIRE(in);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

Folder::Folder() {
  std::string name = (fs::temp_directory_path() / "ohmdrag-app-XXXXXX").string();
  REQUIRE(::mkdtemp(name.data()) != nullptr);
  path_ = name;
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

fs::path Folder::write(const std::string& file, const std::string& text) const {
  std::ofstream(path_ / file, std::ios::binary) << text;
  return path_ / file;
}

}  // namespace ohmdrag::test
