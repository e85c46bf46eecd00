// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/water/water_way.hpp"

namespace wallfoot {

/// What a membrane along drawn edges would be.
enum class RemedyKind { damp_course, floor_membrane, tanking };

/// How much harder one kind is to build than another, per length; data, see resources/rule_sets/water-remedy.json.
struct RemedyWeights {
    double damp_course = 1;     ///< level, in a bed joint of masonry
    double floor_membrane = 1;  ///< level, elsewhere
    double tanking = 1;         ///< upright
    std::string source;
};
/// Reads the rule set. Throws InputFault "remedy-weights-unusable" when a weight is missing or not above 0.
RemedyWeights remedy_weights();

enum class RemedyAnswer {
    none_needed,  ///< no path is drawn to it
    seal_laps,    ///< no path is drawn, but a lap is not proven: seal it, nothing more
    proposed,
    water_level,  ///< it reaches below the water level: a damp course is not the answer (RULES 15)
    at_source,    ///< rain or a cavity foot wets its own face
    none_found    ///< no membrane along drawn edges keeps it dry
};

/// A connected run of edges of one kind.
struct RemedyRun {
    RemedyKind kind = RemedyKind::damp_course;
    Path path;
    double length = 0;        ///< µm
    std::vector<int> joins;   ///< membranes (not gas) that an end of it touches: to be lapped
    std::vector<int> at_gas;  ///< gas membranes that it touches
};

struct Remedy {
    int piece = -1;
    RemedyAnswer answer = RemedyAnswer::none_needed;
    std::vector<RemedyRun> runs;
    double length = 0;  ///< µm, of all runs
    double cost = 0;    ///< µm × weight
    bool above_dpc = false;  ///< asked only for what stands above the DPC level
    std::vector<int> relies_on;  ///< none needed: on what that rests
    std::vector<Lap> laps;       ///< seal laps: those not proven
    WaterFrom source = WaterFrom::soil;  ///< at source: which
};

/// The section with a proposed remedy built: a membrane for each run, its laps stated as sealed, as the proposal asks.
/// The same section where nothing is proposed.
Section with_remedy(const Section& section, const Remedy& remedy);

/// A section made ready for remedies: its lines at which a membrane could be built are noded (RULES 15: piece borders,
/// course lines, levels). Lines are extra membranes behind those of the drawing; they divide faces and block nothing.
class RemedyDrawing {
  public:
    /// Throws Cancelled; InputFault with the faults of a section that cannot be arranged.
    RemedyDrawing(const Study& study, const Section& section, const Context& context = {});

    /// The way of the water, without any remedy.
    const WaterWay& way() const { return way_; }
    const Arrangement& arrangement() const { return arrangement_; }

    /// The cheapest set of edges along which membranes would part a piece (index into Section::pieces) from every source:
    /// a minimum cut. Of a piece that the DPC level divides, what stands above it is to be kept dry; else the whole of it.
    /// Of equally cheap sets the one nearest to the piece. No candidate: an edge between soils or loose fills, or on
    /// its way through a gas membrane. Below the water level both sides of an edge are wet, so no cut runs there.
    Remedy smallest(int piece, const RemedyWeights& weights) const;

  private:
    struct Candidate {
        RemedyKind kind;
        double length;
    };
    std::optional<Candidate> candidate(const WaterLink& link) const;
    bool drawn_line(const ArrangedEdge& edge, int piece) const;
    bool crosses_gas(int edge) const;
    bool carries_gas(int edge) const;
    std::vector<int> targets(int piece) const;
    std::vector<RemedyRun> runs(std::vector<int> cut) const;
    RemedyRun run_along(RemedyKind kind, const std::vector<int>& vertices) const;

    Study study_;
    Section section_;              ///< with the lines as membranes behind the drawing's own
    std::size_t membranes_ = 0;    ///< the drawing's own
    std::vector<int> line_owner_;  ///< per line: its piece
    Arrangement arrangement_;
    WaterWay way_;
    std::vector<std::vector<int>> edges_at_;  ///< per vertex
};

}  // namespace wallfoot
