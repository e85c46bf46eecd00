// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <string>

#include "core/text/message.hpp"

namespace wallfoot::test {

/// A text DXF around some entities ("0\nLINE\n8\n…"), blocks and header variables.
inline std::string dxf_with(const std::string& entities, const std::string& blocks = "", const std::string& header = "") {
    return "0\nSECTION\n2\nHEADER\n" + header + "0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n" + blocks + "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + entities + "0\nENDSEC\n0\nEOF\n";
}
inline std::string dxf_line(double x1, double y1, double x2, double y2, const std::string& layer = "0") {
    return "0\nLINE\n8\n" + layer + "\n10\n" + std::to_string(x1) + "\n20\n" + std::to_string(y1) + "\n11\n" + std::to_string(x2) + "\n21\n" + std::to_string(y2) + "\n";
}

/// Code and arguments of a refusal; code "" when there is none.
inline Message refusal_of(const std::function<void()>& act) {
    try {
        act();
        return {};
    } catch (const InputFault& fault) {
        return fault.faults().front();
    }
}

}  // namespace wallfoot::test
