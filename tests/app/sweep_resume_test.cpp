// `ohmdrag sweep` ended before its end: what stands in the file is valid, and a resumed sweep
// writes the bytes of one that nobody disturbed.

#include <chrono>
#include <fstream>
#include <random>

#include "sweep_table.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

/// A sweep of the tiny case into a file.
class Sweep {
 public:
  Sweep(const test::Folder& folder, const std::string& name, const std::string& steps)
      : out_(folder.path() / name),
        arguments_{"sweep",  folder.write("case.toml", test::tiny_case()).string(),
                   "--axis", "shaft.rotor.diameter=20 mm to 60 mm in " + steps + " steps",
                   "--out",  out_.string()} {}

  const fs::path& out() const { return out_; }
  std::string bytes() const { return test::file_text(out_); }

  test::Arguments arguments(const test::Arguments& more = {}) const {
    test::Arguments all = arguments_;
    all.insert(all.end(), more.begin(), more.end());
    return all;
  }
  test::Ran run(const test::Arguments& more = {}) const { return test::ohmdrag(arguments(more)); }
  test::Ran resume(const test::Arguments& more = {}) const {
    test::Arguments all = arguments(more);
    all.push_back("--resume");
    return test::ohmdrag(all);
  }
  /// Runs until it is done or a signal reaches it after so many seconds.
  test::Ran signalled(const std::string& signal, double after_s) const {
    // In the foreground it waits for the program's end. What runs tests in the background may have
    // SIGINT ignored, which programs inherit.
    test::Arguments all{"timeout",
                        "--foreground",
                        "--preserve-status",
                        "-s",
                        signal,
                        std::to_string(after_s),
                        "env",
                        "--default-signal=INT",
                        test::built_program()};
    const test::Arguments mine = arguments({"--resume"});
    all.insert(all.end(), mine.begin(), mine.end());
    return test::ran(all);
  }

 private:
  fs::path out_;
  test::Arguments arguments_;
};

/// The text of a file as gunzip sees it; REQUIREs that nothing is wrong with it.
std::string unzipped(const fs::path& file) {
  const test::Ran ran = test::ran({"gzip", "-dc", file.string()});
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  return ran.out;
}

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point begin) {
  return std::chrono::duration<double>(Clock::now() - begin).count();
}

void write_bytes(const fs::path& file, const std::string& bytes) {
  std::ofstream(file, std::ios::binary | std::ios::trunc) << bytes;
}

std::string reference(const Sweep& sweep) {
  const test::Ran ran = sweep.run({"--quiet"});
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(ran.err.empty());
  std::string bytes = sweep.bytes();
  fs::remove(sweep.out());
  return bytes;
}

}  // namespace

TEST_CASE("ten kills at random moments lose no row, double none and change no byte", "[derived]") {
  for (const std::string name : {"rows.csv", "rows.csv.gz"}) {
    const test::Folder folder;
    const Sweep sweep(folder, name, "4000");
    const auto begin = Clock::now();
    const std::string whole = reference(sweep);
    double whole_s = seconds_since(begin);  // a guess: the load of the machine changes

    std::mt19937 engine(8);
    std::uniform_real_distribution<double> share(0.02, 0.16);
    int in_the_midst = 0;
    std::uintmax_t size = 0;
    for (int i = 0; i < 200 && in_the_midst < 10; ++i) {
      const bool killed = sweep.signalled("KILL", share(engine) * whole_s).status != 0;
      const std::uintmax_t now = fs::exists(sweep.out()) ? fs::file_size(sweep.out()) : 0;
      if (!killed) {  // too late: from the begin again
        CHECK((sweep.bytes() == whole));
        fs::remove(sweep.out());
        size = 0;
        whole_s *= 0.7;
      } else if (now > size) {
        ++in_the_midst;
        size = now;
      } else {  // before its first row
        whole_s *= 1.2;
      }
    }
    CAPTURE(name, whole_s);
    CHECK(in_the_midst == 10);
    const test::Ran last = sweep.resume();
    CAPTURE(last.err);
    REQUIRE(last.status == 0);
    CHECK((sweep.bytes() == whole));
  }
}

TEST_CASE("a torn end is cut back and written again", "[derived]") {
  for (const std::string name : {"rows.csv", "rows.csv.gz"}) {
    const test::Folder folder;
    const Sweep sweep(folder, name, "100");
    const std::string whole = reference(sweep);
    const bool zipped = name.ends_with(".gz");
    // Behind the head, which appears as a whole; every member begins with the same eight bytes.
    const std::size_t head = zipped ? whole.find(whole.substr(0, 8), 8) : whole.find("\n1,") + 1;
    REQUIRE(head < whole.size());
    for (std::size_t i = 0; i <= 24; ++i) {
      const std::size_t cut = head + (whole.size() - head) * i / 24;
      CAPTURE(name, cut, whole.size());
      write_bytes(sweep.out(), whole.substr(0, cut));
      const test::Ran ran = sweep.resume();
      CAPTURE(ran.err);
      REQUIRE(ran.status == 0);
      CHECK((sweep.bytes() == whole));
    }
    // A member or line that is not torn but damaged is a torn end all the same.
    if (zipped) {
      std::string damaged = whole;
      damaged[whole.size() - 6] = static_cast<char>(damaged[whole.size() - 6] ^ 0x55);
      write_bytes(sweep.out(), damaged);
      REQUIRE(sweep.resume().status == 0);
      CHECK((sweep.bytes() == whole));
    }
  }
}

TEST_CASE("Ctrl-C ends with a valid file and says how to go on", "[derived]") {
  for (const std::string name : {"rows.csv", "rows.csv.gz"}) {
    const test::Folder folder;
    const Sweep sweep(folder, name, "4000");
    const auto begin = Clock::now();
    const std::string whole = reference(sweep);
    double after_s = 0.4 * seconds_since(begin);
    test::Ran ran;
    for (int i = 0; i < 40 && ran.status != 1; ++i) {
      fs::remove(sweep.out());
      ran = sweep.signalled("INT", after_s);
      after_s *= ran.status == 0 ? 0.7 : 1.2;  // too late, or before its first row
    }
    CAPTURE(name, ran.err);
    REQUIRE(ran.status == 1);
    CHECK_THAT(ran.err, Contains("--resume goes on"));
    const test::SweepTable table = test::sweep_table(
        name.ends_with(".gz") ? unzipped(sweep.out()) : test::file_text(sweep.out()));
    CHECK(table.lines.size() > 0);
    CHECK(table.lines.size() < 4000);
    REQUIRE(sweep.resume().status == 0);
    CHECK((sweep.bytes() == whole));
  }
}

TEST_CASE("only the same sweep goes on with a file", "[derived]") {
  const test::Folder folder;
  const Sweep sweep(folder, "rows.csv", "40");
  const std::string whole = reference(sweep);
  const std::string half = whole.substr(0, whole.size() / 2);
  const auto refused = [&](const test::Ran& ran, const std::string& why) {
    CAPTURE(ran.err);
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK_THAT(ran.err, Contains(why));
    CHECK((sweep.bytes() == half));  // left as it was
  };
  write_bytes(sweep.out(), half);
  refused(sweep.run(), "--resume");
  refused(sweep.resume({"--axis", "variant.lip.seal.position=12 mm"}), "begun with another design");
  refused(sweep.resume({"--set", "shaft.rotor.fit=h11"}), "begun with another set");
  refused(sweep.resume({"--draws"}), "evaluated");
  folder.write("case.toml", test::tiny_case() + "# a remark\n");
  refused(sweep.resume(), "begun with another case");
  folder.write("case.toml", test::tiny_case());
  CHECK(sweep.resume().status == 0);
  CHECK((sweep.bytes() == whole));

  const Sweep foreign(folder, "table.csv", "40");
  write_bytes(foreign.out(), "a,b\n1,2\n");
  const test::Ran ran = foreign.resume();
  CHECK(ran.status == 2);
  CHECK_THAT(ran.err, Contains("no file of a sweep"));
  CHECK(foreign.bytes() == "a,b\n1,2\n");
  // A row too few in the middle is no torn end.
  const std::size_t row_9 = whole.find("\n9,"), row_10 = whole.find("\n10,");
  write_bytes(sweep.out(), whole.substr(0, row_9) + whole.substr(row_10));
  const test::Ran gap = sweep.resume();
  CHECK(gap.status == 2);
  CHECK_THAT(gap.err, Contains("after row 8"));
}

TEST_CASE("a full disk leaves whole rows that can be gone on with", "[derived]") {
  for (const std::string name : {"rows.csv", "rows.csv.gz"}) {
    const test::Folder folder;
    const Sweep sweep(folder, name, "200");
    const std::string whole = reference(sweep);
    test::Surroundings full;
    full.largest_file_bytes = whole.size() * 2 / 3;
    const test::Ran ran = test::ohmdrag(sweep.arguments(), full);
    CAPTURE(name, ran.err);
    CHECK(ran.status == 1);
    CHECK_THAT(ran.err, Contains(sweep.out().string()));
    test::sweep_table(name.ends_with(".gz") ? unzipped(sweep.out()) : test::file_text(sweep.out()));
    REQUIRE(sweep.resume().status == 0);
    CHECK((sweep.bytes() == whole));
  }
}

TEST_CASE("a compressed table holds what a plain one holds", "[derived]") {
  const test::Folder folder;
  const Sweep plain(folder, "rows.csv", "70"), zipped(folder, "rows.csv.gz", "70");
  REQUIRE(plain.run().status == 0);
  REQUIRE(zipped.run().status == 0);
  CHECK(unzipped(zipped.out()) == plain.bytes());
  const test::Ran again = zipped.resume();
  CHECK(again.status == 0);
  CHECK_THAT(again.err, Contains("complete already"));
}
