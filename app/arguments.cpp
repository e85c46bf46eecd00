// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/arguments.hpp"

#include <cstdio>
#include <ctime>

#include "core/study/variants.hpp"

namespace wallfoot {

void wrong_use(const std::string& what, const std::string& right) {
    throw InputFault(Message{Severity::fault, "wrong-use", {{"what", what}, {"right", right}}, {}, {}});
}

std::vector<const Variant*> chosen(const Study& study, const std::vector<std::string>& names) {
    std::vector<const Variant*> variants;
    for (const auto& name : names) variants.push_back(&need_variant(study, name));
    if (names.empty())
        for (const auto& variant : study.variants) variants.push_back(&variant);
    return variants;
}

std::string today() {
    const std::time_t now = std::time(nullptr);
    std::tm parts{};
    localtime_r(&now, &parts);
    char text[16];
    std::strftime(text, sizeof text, "%Y-%m-%d", &parts);
    return text;
}

void print_faults(const std::vector<Message>& messages, const std::string& file) {
    for (const auto& message : messages)
        if (message.severity == Severity::fault) std::fprintf(stderr, "%s\n", one_line(message, file).c_str());
}

int print_result(const std::string& text, int status) {
    if (std::fputs(text.c_str(), stdout) >= 0 && std::fflush(stdout) == 0) return status;
    std::perror("wallfoot: the result cannot be written");
    return other_failure;
}

}  // namespace wallfoot
