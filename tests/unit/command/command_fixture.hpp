// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

namespace wallfoot {

struct Ran {
    int status = -1;
    std::string out, err;
};

/// The command beside this test in the build folder, with a folder of its own.
class CommandTest : public ::testing::Test {
  protected:
    void SetUp() override {
        program_ = std::filesystem::read_symlink("/proc/self/exe").parent_path().parent_path() / "app" / "wallfoot";
        ASSERT_TRUE(std::filesystem::exists(program_)) << program_;
        char name[] = "/tmp/wallfoot-test-XXXXXX";
        folder_ = ::mkdtemp(name);
    }
    void TearDown() override { std::filesystem::remove_all(folder_); }

    std::string write(const std::string& name, const std::string& text) {
        std::ofstream(folder_ / name) << text;
        return (folder_ / name).string();
    }
    static std::string all_of(const std::filesystem::path& path) {
        std::ifstream file(path);
        return {std::istreambuf_iterator<char>(file), {}};
    }
    Ran run(const std::string& arguments) {
        const auto line = program_.string() + " " + arguments + " >" + (folder_ / "out").string() + " 2>" + (folder_ / "err").string();
        const int code = std::system(line.c_str());
        return {WIFEXITED(code) ? WEXITSTATUS(code) : -1, all_of(folder_ / "out"), all_of(folder_ / "err")};
    }

    std::filesystem::path program_, folder_;
};

}  // namespace wallfoot
