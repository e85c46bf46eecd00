// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/sweep_command.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <map>
#include <memory>
#include <sstream>

#include "app/arguments.hpp"
#include "core/file/study_file.hpp"
#include "solver/findings/reuse.hpp"
#include "solver/findings/sweep.hpp"

namespace wallfoot {

const char* const sweep_usage =
    "wallfoot sweep FILE PLAN [--shard K/N --out DIR] [--resources DIR]\n"
    "  psi, L2D and fRsi for every combination of the plan, as CSV; PLAN is JSON: README tells what may stand in it\n"
    "  --shard  the K-th of N parts; written to DIR/rows-K-of-N.csv, begun again where it ended: (cat header.csv; sort -n rows-*.csv)\n";

namespace {

namespace fs = std::filesystem;

struct SweepAsked {
    std::string file, plan, out;
    std::size_t shard = 1, shards = 1;
};

SweepAsked read_sweep_arguments(const std::vector<std::string>& arguments) {
    SweepAsked asked;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        const auto value = [&]() -> const std::string& {
            if (i + 1 == arguments.size()) wrong_use(word + " stands without a value", "a value after it");
            return arguments[++i];
        };
        if (word == "--out") asked.out = value();
        else if (word == "--shard") {
            char end = 0;
            const std::string& text = value();
            if (std::sscanf(text.c_str(), "%5zu/%5zu%c", &asked.shard, &asked.shards, &end) != 2 || asked.shard < 1 || asked.shard > asked.shards) wrong_use("--shard is '" + text + "'", "K/N with K from 1 to N, such as 2/8");
        } else if (word.size() > 1 && word.starts_with("-")) wrong_use("'" + word + "' is no option of sweep", "one of --shard, --out");
        else if (asked.file.empty()) asked.file = word;
        else if (asked.plan.empty()) asked.plan = word;
        else wrong_use("three files are given", "one study and one plan");
    }
    if (asked.file.empty() || asked.plan.empty()) wrong_use("a study and a plan are needed", "wallfoot sweep FILE PLAN");
    if (asked.shards > 1 && asked.out.empty()) wrong_use("--shard stands without a folder", "--out DIR");
    return asked;
}

std::string text_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::stringstream text;
    text << file.rdbuf();
    if (!file) throw InputFault(Message{Severity::fault, "sweep-plan-unreadable", {{"file", path}, {"reason", std::strerror(errno)}}, {}, {}});
    return text.str();
}

SweepPlan plan_of(const std::string& path) {
    const std::string text = text_of(path);
    try {
        return read_sweep_plan(text);
    } catch (const InputFault& fault) {
        print_faults(fault.faults(), path);
        throw;
    }
}

/// Lines of an earlier run that are whole, by their number.
std::map<std::size_t, std::string> earlier_lines(const fs::path& path) {
    std::map<std::size_t, std::string> lines;
    std::ifstream file(path, std::ios::binary);
    for (std::string line; std::getline(file, line) && !file.eof();)
        if (!line.empty() && line.front() >= '0' && line.front() <= '9') lines[std::strtoull(line.c_str(), nullptr, 10)] = line;
    return lines;
}

[[noreturn]] void not_written(const fs::path& path) {
    throw InputFault(Message{Severity::fault, "sweep-not-written", {{"file", path.string()}, {"reason", std::strerror(errno)}}, {}, {}});
}

/// Writes the whole of a small file beside itself and puts it in its place.
void put_in_place(const fs::path& path, const std::string& text) {
    // Several shards write the head of the table at the same time.
    const fs::path beside = path.string() + "." + std::to_string(::getpid()) + ".part";
    std::ofstream file(beside, std::ios::binary);
    file << text;
    file.close();
    std::error_code failed;
    if (file) fs::rename(beside, path, failed);
    if (!file || failed) not_written(path);
}

/// Held while a shard is worked on, so that a job that was begun again does not write beside the first. The system lets go of
/// it when the process ends, however it ends.
class ShardLock {
  public:
    explicit ShardLock(const fs::path& rows) : file_(::open((rows.string() + ".lock").c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666)) {
        if (file_ < 0) not_written(rows);
        // A file system without locks is no reason not to work.
        if (::flock(file_, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK) return;
        ::close(file_);
        throw InputFault(Message{Severity::fault, "sweep-shard-taken", {{"file", rows.string()}}, {}, {}});
    }
    ~ShardLock() { ::close(file_); }
    ShardLock(const ShardLock&) = delete;
    ShardLock& operator=(const ShardLock&) = delete;

  private:
    int file_;
};

int sweep_asked(const SweepAsked& asked) {
    const auto read = load_study(asked.file);
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, asked.file).c_str());
    const SweepPlan plan = plan_of(asked.plan);
    const std::size_t rows = sweep_rows(read.study, plan);
    Reuse reuse;
    const FindingsOptions options = reuse.at_rest();
    bool reached = true;
    const auto note = [&](const std::string& line) { reached = reached && line.find(",no,") == std::string::npos; };
    if (asked.out.empty()) {
        std::printf("%s\n", sweep_head(plan).c_str());
        for (std::size_t n = 0; n < rows; ++n) {
            const std::string line = sweep_line(sweep_row(read.study, plan, n), options);
            note(line);
            std::printf("%s\n", line.c_str());
            if (std::fflush(stdout) != 0) return other_failure;
        }
        return reached ? solved : tolerance_not_reached;
    }
    std::error_code failed;
    fs::create_directories(asked.out, failed);
    const fs::path folder = asked.out, path = folder / ("rows-" + std::to_string(asked.shard) + "-of-" + std::to_string(asked.shards) + ".csv");
    const ShardLock lock(path);
    put_in_place(folder / ("header.csv"), sweep_head(plan) + "\n");
    // First what still holds of an earlier run, whole; then line by line, each on the disk before the next is begun.
    const auto earlier = earlier_lines(path);
    std::string kept;
    std::vector<std::size_t> open;
    for (std::size_t n = asked.shard - 1; n < rows; n += asked.shards) {
        const auto before = earlier.find(n);
        if (before != earlier.end() && sweep_line_holds(before->second, sweep_row(read.study, plan, n))) kept += before->second + "\n";
        else open.push_back(n);
    }
    put_in_place(path, kept);
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "ab"), std::fclose);
    if (!file) not_written(path);
    for (const std::size_t n : open) {
        const std::string line = sweep_line(sweep_row(read.study, plan, n), options);
        note(line);
        if (std::fprintf(file.get(), "%s\n", line.c_str()) < 0 || std::fflush(file.get()) != 0) not_written(path);
    }
    return reached ? solved : tolerance_not_reached;
}

}  // namespace

int sweep_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_sweep_arguments, sweep_asked); }

}  // namespace wallfoot
