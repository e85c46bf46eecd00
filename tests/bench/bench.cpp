// SPDX-License-Identifier: GPL-3.0-or-later
// What tests/bench/run measures inside one process. Times in seconds: wall, then processor time of all threads.
//   bench once FILE VARIANT TOLERANCE   one coupling, from the study to the bracket:   wall cpu value lower upper unknowns
//   bench growth THREADS UNKNOWNS       one run up to so many unknowns, per solve:     unknowns wall cpu
//   bench cases ROUNDS                  cases in turn, per round and case:             name threads wall cpu unknowns
//   bench again ROUNDS                  a solved section with one conductivity changed: name wall cpu width
//   bench variant ROUNDS                psi and fRsi of a variant with one conductivity changed: name wall cpu width of psi
//   bench peak                          everything of a 60-piece junction to 1e-5 of its L2D: peak memory in KiB
//   bench empty                         nothing:                                       peak memory in KiB
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <fstream>
#include <functional>
#include <stdexcept>

#include "core/context/memory.hpp"
#include "core/file/study_file.hpp"
#include "solver/bracket/reduced_basis.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/parameter.hpp"
#include "solver/findings/reuse.hpp"
#include "tests/bench/junction.hpp"

namespace {

using namespace wallfoot;

struct Times {
    double wall = 0, cpu = 0;
};

class Stopwatch {
  public:
    Times read() const { return {now() - wall_, cpu() - cpu_}; }

  private:
    static double now() {
        return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
    }
    static double cpu() {
        timespec t{};
        clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
        return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
    }
    double wall_ = now(), cpu_ = cpu();
};

Model model_of(const Study& study, const Variant& variant) {
    const auto& section = *variant.section;
    const auto arrangement = arrange(study, section);
    auto messages = arrangement.messages;
    const auto found = conductivities(study, section, arrangement, messages);
    for (const auto& message : messages)
        if (message.severity == Severity::fault) throw std::logic_error("the drawing has a fault: " + message.code);
    const auto met = surfaces(study, section, arrangement, Purpose::heat_flow);
    return reduce(arrangement, found, met, static_cast<int>(section.spaces.size()));
}

int once(const char* file, const char* name, double tolerance) {
    const auto study = load_study(file).study;
    const Variant* variant = study.find_variant(name);
    if (!variant) throw std::runtime_error(std::string("no variant ") + name);
    SolveOptions options;
    options.tolerance = tolerance;
    const Stopwatch watch;
    const auto solution = solve(model_of(study, *variant), options);
    const auto [wall, cpu] = watch.read();
    const auto l = solution.coupling(0, 1);
    std::printf("%.6f %.6f %.12g %.12g %.12g %d\n", wall, cpu, l.value, l.lower, l.upper, solution.unknowns);
    return solution.converged ? 0 : 3;
}

int growth(bool two_threads, int unknowns) {
    const auto study = bench::ground_junction(30, false);
    SolveOptions options;
    options.tolerance = 1e-13;  // never reached: the number of triangles ends the run
    options.most_triangles = unknowns / 4;  // both fields of a quadratic mesh have about four unknowns per triangle
    options.two_threads = two_threads;
    const Stopwatch watch;
    options.on_step = [&](const Solution& step) {
        const auto [wall, cpu] = watch.read();
        std::printf("%d %.6f %.6f\n", step.unknowns, wall, cpu);
    };
    solve(model_of(study, study.variants.front()), options);
    return 0;
}

struct Case {
    std::string name;
    std::function<Solution(bool two_threads)> run;
};

/// Study to bracket of one drawing, to a tolerance; 0 = the first solve.
Case to_tolerance(const std::string& name, int pieces, bool thin_layers, double tolerance, bool relative) {
    const auto study = std::make_shared<Study>(bench::ground_junction(pieces, thin_layers));
    SolveOptions options;
    options.tolerance = tolerance;
    if (relative) {
        SolveOptions rough;
        rough.tolerance = 1e-3;
        options.tolerance *= solve(model_of(*study, study->variants.front()), rough).coupling(0, 1).value;
    }
    return {name, [study, options](bool two_threads) mutable {
                options.two_threads = two_threads;
                return solve(model_of(*study, study->variants.front()), options);
            }};
}

Case surface_mean(const std::string& name, int pieces) {
    const auto study = std::make_shared<Study>(bench::ground_junction(pieces, false));
    return {name, [study](bool two_threads) {
                SolveOptions options;
                options.two_threads = two_threads;
                options.tolerance = 1e30;
                options.surface_contact = 0;
                options.temperatures = {1, 0};
                options.surface_tolerance = 0.01 / 20;  // 0.01 K either way between 20 and 0 °C
                return solve(model_of(*study, study->variants.front()), options);
            }};
}

int cases(int rounds) {
    const std::vector<Case> all = {
        to_tolerance("30-first", 30, false, 1e30, false),        to_tolerance("30-1e-4", 30, false, 1e-4, false),
        to_tolerance("30-1e-5-relative", 30, false, 1e-5, true), surface_mean("30-surface-mean", 30),
        to_tolerance("60-1e-4", 60, false, 1e-4, false),         to_tolerance("60-layers-1e-4", 60, true, 1e-4, false),
        to_tolerance("60-1e-5-relative", 60, false, 1e-5, true), to_tolerance("60-layers-1e-5-relative", 60, true, 1e-5, true),
    };
    for (int round = 0; round < rounds; ++round)
        for (const auto& one : all)
            for (const bool two_threads : {false, true}) {
                const Stopwatch watch;
                const auto solution = one.run(two_threads);
                const auto [wall, cpu] = watch.read();
                if (!solution.converged) throw std::logic_error(one.name + " did not reach its tolerance");
                std::printf("%s %d %.6f %.6f %d\n", one.name.c_str(), two_threads ? 2 : 1, wall, cpu, solution.unknowns);
            }
    return 0;
}

/// From scratch, on the kept mesh, and by combining solved fields: the same section with one conductivity changed.
int again(int rounds) {
    constexpr int slider_values = 1000;
    const auto study = bench::ground_junction(30, false);
    const Model model = model_of(study, study.variants.front());
    const auto changed = [&](double factor) {
        Model other = model;
        auto& region = other.regions[other.regions.size() / 2];
        region.kx *= factor, region.ky *= factor;
        return other;
    };
    SolveOptions options;
    options.two_threads = false;
    const KeptMesh kept(model, options);
    const ReducedBasis basis(kept, {*kept.inputs_of(changed(0.5)), *kept.inputs_of(changed(2))});
    const auto print = [](const char* name, const Stopwatch& watch, double share, double width) {
        const auto [wall, cpu] = watch.read();
        std::printf("%s %.9f %.9f %.3e\n", name, share * wall, share * cpu, width);
    };
    for (int round = 0; round < rounds; ++round) {
        const Model other = changed(1.3);
        const Stopwatch scratch;
        const auto fresh = solve(other, options);
        print("scratch", scratch, 1, fresh.coupling(0, 1).width());
        const Stopwatch same_mesh;
        const auto kept_solution = kept.solve_again(other);
        print("again", same_mesh, 1, kept_solution.coupling(0, 1).width());
        const auto inputs = *kept.inputs_of(other);
        const Stopwatch slider;
        double widest = 0;
        for (int i = 0; i < slider_values; ++i) widest = std::max(widest, basis.couplings(inputs).coupling(0, 1).width());
        print("slider", slider, 1.0 / slider_values, widest);
    }
    return 0;
}

/// Another conductivity of one piece, everything found: from scratch, at rest with what is the same solved once, and as a
/// first look on the kept meshes.
int variant(int rounds) {
    const auto changed = [](double factor) {
        Study study = bench::ground_junction(30, false);
        Parameter parameter{ParameterWhat::conductivity, {study.variants.front().section->pieces.back().id}, {}};
        for (const Piece& piece : study.variants.front().section->pieces)
            if (const Material* material = study.find_material(piece.filled_with); material && material->kind == MaterialKind::masonry) parameter.targets = {piece.id};
        const double now = present_number(study, study.variants.front(), parameter).value();
        Variant& variant = study.variants.front();
        variant.section = std::make_shared<const Section>(with_number(study, variant, *variant.section, parameter, factor * now));
        return study;
    };
    Reuse reuse;
    const Study first = changed(1.1);
    const FindingsOptions at_rest = reuse.at_rest(), quick = reuse.quick();
    find(first, first.variants.front(), at_rest);
    find(first, first.variants.front(), quick);
    for (int round = 0; round < rounds; ++round) {
        const Study other = changed(1.3 + 0.01 * round);  // at rest nothing of it was seen before
        for (const auto& [name, options] : {std::pair("scratch", FindingsOptions{}), std::pair("rest", at_rest), std::pair("quick", quick)}) {
            const Stopwatch watch;
            const auto found = find(other, other.variants.front(), options);
            const auto [wall, cpu] = watch.read();
            const Psi* psi = found->headline_psi();
            if (!psi || !psi->value) throw std::logic_error("the junction has no psi");
            std::printf("%s %.9f %.9f %.3e\n", name, wall, cpu, psi->value->width());
        }
    }
    return 0;
}

void print_peak() {
    std::ifstream status("/proc/self/status");
    for (std::string line; std::getline(status, line);)
        if (line.starts_with("VmHWM:")) std::printf("%ld\n", std::strtol(line.c_str() + std::strlen("VmHWM:"), nullptr, 10));
}

int peak() {
    const auto study = read_study(write_study(bench::ground_junction(60, false))).study;
    FindingsOptions options;
    options.tolerance = 1e-5 * find(study, study.variants.front())->couplings.front().value->value;
    const auto findings = find(study, study.variants.front(), options);
    if (!findings->converged || to_json(study, "", {findings}).empty()) return 3;
    print_peak();
    return 0;
}

int run(const std::vector<std::string>& words) {
    const auto is = [&](const char* word, std::size_t count) { return words.size() == count + 1 && words[0] == word; };
    if (is("once", 3)) return once(words[1].c_str(), words[2].c_str(), std::stod(words[3]));
    if (is("growth", 2)) return growth(words[1] == "2", std::stoi(words[2]));
    if (is("cases", 1)) return cases(std::stoi(words[1]));
    if (is("again", 1)) return again(std::stoi(words[1]));
    if (is("variant", 1)) return variant(std::stoi(words[1]));
    if (is("peak", 0)) return peak();
    if (is("empty", 0)) return print_peak(), 0;
    std::fputs("usage: see the head of tests/bench/bench.cpp\n", stderr);
    return 2;
}

}  // namespace

int main(int count, char** arguments) {
    keep_freed_memory();  // as the programs do
    try {
        return run({arguments + 1, arguments + count});
    } catch (const InputFault& fault) {
        for (const auto& message : fault.faults()) std::fprintf(stderr, "%s\n", one_line(message, "bench").c_str());
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
    }
    return 1;
}
