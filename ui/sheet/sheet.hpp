// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QWidget>
#include <functional>
#include <memory>
#include <optional>

#include "core/arrangement/arrangement.hpp"
#include "core/study/underlays.hpp"
#include "core/study/layers.hpp"
#include "core/foot/foot_report.hpp"
#include "core/water/report.hpp"
#include "solver/findings/findings.hpp"
#include "ui/exchange/underlay_store.hpp"
#include "ui/paint/element_lengths.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/heat_lines.hpp"
#include "ui/paint/paint.hpp"
#include "ui/sheet/heat_layer.hpp"
#include "ui/sheet/outline_tool.hpp"
#include "ui/sheet/picked.hpp"
#include "ui/sheet/snap.hpp"

namespace wallfoot {

class Document;
class EntryBox;

enum class Activity { draw, heat, water, rules, compare, report, teach };
enum class Tool { pick, polygon, rectangle, membrane, space, level, fill, move, split, hole, stretch, dimension, note, layers, hidden };

/// What is drawn next, by tool.
struct Next {
    QString material;
    MembraneKind membrane = MembraneKind::dpc;
    QString space;  ///< id of the space that gets one more mark; empty: a new space of the kind
    SpaceKind space_kind = SpaceKind::inside;
    LevelName level;
    std::vector<Layer> layers;  ///< along the line drawn next
    bool layers_on_left = false;
};

/// Something to settle, with its number in the list and on the drawing.
struct Mark {
    Point at;
    int number = 0;
    bool fault = true;
    QString text;
};

/// What is carried from the list of materials: the key of its row.
constexpr char material_mime[] = "application/x-wallfoot-material";

/// The canvas: shows the section, picks and drags, draws what is new. Edits go to the document as named acts.
/// Three layers: heat map (painted by HeatLayer), lines (cached image), and what follows the cursor.
class Sheet : public QWidget {
    Q_OBJECT
  public:
    explicit Sheet(Document& document, QWidget* parent = nullptr);
    ~Sheet() override;

    void set_activity(Activity activity);
    Activity activity() const { return activity_; }
    void set_tool(Tool tool);
    Tool tool() const { return tool_; }
    /// `current`: the findings belong to the drawing as it is shown.
    void set_findings(std::shared_ptr<const Findings> findings, bool current);
    /// The water's way; shown in Water while the drawing is the one it was found in.
    void set_water(std::shared_ptr<const WaterReport> water);
    /// What the rules say; its bands are shown in Rules while the drawing is the one that was checked.
    void set_foot(std::shared_ptr<const FootReport> foot);
    void set_marks(std::vector<Mark> marks);
    void set_dark(bool dark);
    void set_isotherms(bool shown);
    void set_flow_lines(bool shown);
    /// Outlines what the active variant has otherwise than the first one.
    void set_difference_marks(bool shown);
    /// Shows the lengths that U of the flanking elements is taken over; `other`: not those of the convention.
    void set_lengths(bool shown, bool other);
    /// The system of those lengths.
    LengthSystem length_system() const;
    /// As they are drawn now; none where they are not shown.
    std::vector<ElementLength> lengths_drawn() const;
    void set_next(const Next& next);
    void set_picked(const Picked& picked);
    const Picked& picked() const { return picked_; }

    /// Where each mark stands, pixels: at its place, or beside it where the ring of the coldest point or an earlier mark is.
    std::vector<QPointF> mark_places() const;

    void fit();
    void zoom(double factor);
    /// Brings a point into view and points at it.
    void show_place(Point p);
    /// Moves the picked piece by whole millimetres; with none picked, the view goes that way.
    void move_picked(int dx_mm, int dy_mm);
    /// The edge of the picked piece that was clicked last: its piece and ends.
    std::optional<std::pair<Point, Point>> clicked_edge() const;
    /// The step of the grid in mm; nothing: it is off, and round numbers by the scale hold the cursor.
    void set_grid(std::optional<double> step_mm);
    void set_guides(std::vector<Guide> guides);
    const std::vector<Guide>& guides() const { return guides_; }
    /// Picks what lies wholly inside a rectangle of the drawing, or also what it touches.
    void pick_box(QRectF mm, bool touching);
    /// One level back: drag, corner, outline; false when there is nothing to take back here.
    bool take_back();

    /// Asks for one place after the other, a hint for each; `given` is called with all of them (mm), never when the user
    /// gives up. `held`: corners of lines, of underlays too, hold the cursor.
    void ask_places(const QStringList& hints, bool held, std::function<void(const std::vector<QPointF>&)> given);
    bool asks_places() const { return asked_.has_value(); }
    /// The button is down on something that is dragged, or on a box that is drawn.
    bool dragging() const { return drag_ || box_from_; }
    /// What to do first when an act needs a piece and none is picked.
    QString needs_piece() const;
    UnderlayStore& underlays() { return underlays_; }

    const View& view() const { return view_; }
    void set_view(const View& view);
    /// What is shown: the preview of an act under way, else the document's section. Null without a study.
    std::shared_ptr<const Section> shown() const;
    const OutlineTool* outline() const { return outline_ ? &*outline_ : nullptr; }
    EntryBox* entry_box() const { return entry_; }

    QSize sizeHint() const override { return {800, 600}; }

  signals:
    void hovered(QPointF mm, const QString& snap);
    void picked_changed(const wallfoot::Picked& picked);
    void previewed(std::shared_ptr<const wallfoot::Section> section);  ///< null: the act is over
    void told(const QString& text);                                    ///< a hint or a refusal for the status line
    void tool_changed(wallfoot::Tool tool);
    void file_dropped(const QString& path, QPointF mm);                ///< one that can lie below the section
    void material_used(const QString& id);                             ///< something was drawn of it
    void material_dropped(const QString& key);                         ///< onto the piece that is picked now

  protected:
    void paintEvent(QPaintEvent*) override;
    void resizeEvent(QResizeEvent*) override;
    void mousePressEvent(QMouseEvent*) override;
    void mouseMoveEvent(QMouseEvent*) override;
    void mouseReleaseEvent(QMouseEvent*) override;
    void mouseDoubleClickEvent(QMouseEvent*) override;
    void wheelEvent(QWheelEvent*) override;
    void keyPressEvent(QKeyEvent*) override;
    void keyReleaseEvent(QKeyEvent*) override;
    void leaveEvent(QEvent*) override;
    void dragEnterEvent(QDragEnterEvent*) override;
    void dragMoveEvent(QDragMoveEvent*) override;
    void dropEvent(QDropEvent*) override;
    void focusOutEvent(QFocusEvent*) override;
    bool event(QEvent*) override;

  private:
    /// What the hand holds or may take hold of: a corner (a == b) or an edge of the picked piece or membrane, a mark, a level.
    struct Drag {
        Picked of;
        Point a, b;
        bool corner = true;
        bool begun = false;  ///< moved beyond a click's tremble
        std::vector<Point> moving;
        std::shared_ptr<const Section> base, preview;
        std::optional<Point> to = {}, tried = {};  ///< where the preview has it; where it was last asked to go
        bool body = false;   ///< all that is picked, taken hold of inside
        std::optional<bool> end = {};  ///< of a dimension: its first point (false) or its second; of an element: the place it is measured to
        CutSide cut = CutSide::top;    ///< of an element
        LengthSystem lengths = LengthSystem::internal;
    };
    struct LineLayer {
        View view;
        double ratio = 0;
        std::shared_ptr<const Section> section;
        std::shared_ptr<const Findings> findings;
        std::vector<QPointF> marks;
        bool heat = false, isotherms = false, flow_lines = false, dark = false, current = false;
        std::shared_ptr<const WaterReport> water = {};  ///< null: not shown
        int water_piece = -1;                           ///< the one picked
        std::shared_ptr<const FootReport> foot = {};    ///< null: not shown
        std::shared_ptr<const Section> base = {};       ///< what differs from it is marked; null: nothing is
        bool operator==(const LineLayer&) const = default;
    };

    struct UnderlayLayer {
        View view;
        double ratio = 0;
        bool dark = false;
        std::vector<Underlay> underlays;
        bool operator==(const UnderlayLayer&) const = default;
    };
    struct Asked {
        QStringList hints;
        bool held = true;
        std::function<void(const std::vector<QPointF>&)> given;
        std::vector<QPointF> places;
    };

    double reach_mm() const { return 9 / view_.pixels_per_mm; }
    bool heat_shown() const;
    bool water_shown() const { return activity_ == Activity::water && water_ && water_->section == shown(); }
    bool foot_shown() const { return activity_ == Activity::rules && foot_ && foot_->section == shown(); }
    /// The first variant, where what differs from it is to be marked; null else.
    std::shared_ptr<const Section> marked_against() const;
    void paint_differences(QPainter& layer, const Section& base, LabelPlaces& places);
    /// The picked piece, when water has something to say of it; -1 else.
    int water_piece() const;
    void paint_water(QPainter& layer, const SectionLook& look, LabelPlaces& places);
    Snap snap_at(QPointF pixels, Qt::KeyboardModifiers keys);
    std::optional<Drag> handle_at(QPointF pixels) const;
    std::optional<Drag> mark_at(QPointF pixels) const;
    std::optional<Drag> line_handle_at(QPointF pixels, const std::vector<const std::vector<Point>*>& lines, bool closed) const;
    std::optional<Drag> corner_or_edge_at(QPointF pixels) const;
    /// A section with what is dragged at `to`; throws InputFault.
    static Section dragged(const Section& base, const Drag& drag, Point to);
    /// Handles of measures, dimensions and texts; the inside of what is picked.
    std::optional<Drag> note_handle_at(QPointF pixels) const;
    std::optional<Drag> dimension_end_at(QPointF pixels) const;
    std::optional<Drag> body_at(QPointF pixels);
    /// Whether a tool can be taken in hand now; tells what it needs.
    bool may_take(Tool tool);
    bool outline_is_whole() const;
    QString edit_hint() const;
    std::vector<Message> commit_edit_tool();
    std::vector<Message> commit_stretch();
    std::vector<Message> commit_note();
    std::vector<Message> commit_hidden();
    /// The place that a shown length is measured to, or its line, which only picks it.
    std::optional<Drag> length_handle_at(QPointF pixels) const;
    std::optional<Drag> hidden_handle_at(QPointF pixels) const;
    void paint_lengths(QPainter& painter);
    bool lengths_fit() const { return (activity_ == Activity::draw || activity_ == Activity::heat) && findings_ && findings_->section; }
    Dimension drawn_dimension(const Outline& corners) const;
    double grid_step() const { return grid_mm_ ? *grid_mm_ : grid_step_mm(view_.pixels_per_mm); }
    void paint_edit_preview(QPainter& painter, const Outline& outline);
    void paint_grid(QPainter& painter);
    void paint_measures(QPainter& painter);
    void paint_several(QPainter& painter);
    void paint_dimension_ends(QPainter& painter, const Dimension& dimension);
    static QString name_of_drag(const Drag& drag);
    /// What the cursor may be held by while this is dragged.
    static Snapper snapper_for(const Drag& drag);
    void change_corner_at(const Drag& handle, QPointF pixels, Qt::KeyboardModifiers keys);
    void pick_at(QPointF pixels, bool add);
    /// The topmost piece of solid or cutout there; nothing outside the section.
    std::optional<Picked> piece_under(QPointF pixels) const;
    void hover_to(QPointF pixels, Qt::KeyboardModifiers keys);
    void drag_to(QPointF pixels, Qt::KeyboardModifiers keys);
    void end_drag(bool commit);
    void outline_step(OutlineTool::Step step);
    void begin_outline();
    void finish_outline();
    std::vector<Message> commit_piece(Piece piece);
    std::vector<Message> commit_membrane();
    std::vector<Message> commit_space();
    std::vector<Message> commit_level();
    std::vector<Message> commit_layers();
    QString hint() const;
    void drop_outline();
    /// Corners between two points along what is drawn.
    Path way(Point from, Point to);
    void open_entry(const QString& first);
    void close_entry();
    void tell_entry();
    void commit_entry();
    void update_cursor();
    void after_study_change();
    void pan_by(QPointF pixels);

    void paint_lines(QPainter& painter);
    void paint_picked(QPainter& painter);
    void paint_picked_marks(QPainter& painter);
    void paint_picked_lines(QPainter& painter, const std::vector<const std::vector<Point>*>& lines, bool closed);
    void paint_outline(QPainter& painter);
    void paint_next_line(QPainter& painter);
    void paint_next_layers(QPainter& painter);
    void paint_level_line(QPainter& painter, const LevelName& level, Micrometres height);
    void paint_marks(QPainter& painter);
    void paint_legend(QPainter& painter);
    QStringList legend_lines() const;
    QRectF legend_rect() const;
    const SurfaceFinding* lowest() const { return findings_ && current_ ? findings_->headline_surface() : nullptr; }
    void paint_empty(QPainter& painter);
    void paint_below(QPainter& painter, const Section& section);
    void paint_picked_underlay(QPainter& painter);
    void paint_asked(QPainter& painter);
    /// What an underlay shows has come, or cannot be shown.
    void underlay_arrived(const QString& name, const QString& trouble);
    void hold_by_underlays(Snapper& snapper, const Section& section);
    std::optional<Picked> underlay_under(QPointF pixels) const;
    std::optional<Drag> underlay_handle_at(QPointF pixels) const;
    QPointF asked_place(QPointF pixels, Qt::KeyboardModifiers keys);
    void take_asked(QPointF pixels, Qt::KeyboardModifiers keys);
    bool drop_asked();
    SheetColours colours() const { return dark_ ? SheetColours::dark() : SheetColours::light(); }

    Document& document_;
    Activity activity_ = Activity::draw;
    Tool tool_ = Tool::pick;
    View view_;
    bool fitted_ = true;  ///< keeps showing the whole section until the user moves the view
    bool dark_ = false, isotherms_ = true, flow_lines_ = true, difference_marks_ = false, lengths_ = false, other_lengths_ = false;
    Next next_;
    Picked picked_;
    std::vector<Mark> marks_;
    std::shared_ptr<const Findings> findings_;
    std::shared_ptr<const WaterReport> water_;
    std::shared_ptr<const FootReport> foot_;
    bool current_ = false;
    TemperatureRange range_;
    LineSteps steps_;

    HeatLayer* heat_layer_ = nullptr;
    LineLayer lines_key_;
    QImage lines_;
    std::vector<Named> named_;  ///< names painted in lines_

    mutable UnderlayStore underlays_;  ///< what was unpacked, kept
    UnderlayLayer below_key_;
    QImage below_;
    std::optional<Asked> asked_;
    bool asked_press_ = false;  ///< the press that is down gave a place

    std::shared_ptr<const Section> snapper_of_;
    std::optional<Snapper> snapper_;
    std::shared_ptr<const Section> noded_of_;
    std::optional<Arrangement> noded_;
    Snap hover_;
    QPointF hover_pixels_;
    bool hovering_ = false;
    std::optional<Drag> drag_, handle_;
    QPointF press_pixels_;
    std::optional<QPointF> box_from_;  ///< where dragging on empty ground began
    bool boxing_ = false;
    std::optional<Drag> clicked_;      ///< the handle that was clicked last
    std::optional<double> grid_mm_;
    std::vector<Guide> guides_;
    bool panning_ = false, space_held_ = false;
    std::optional<OutlineTool> outline_;
    EntryBox* entry_ = nullptr;
    std::optional<Point> pointed_at_;
    std::shared_ptr<const Section> last_section_;
    std::size_t last_variant_ = 0;
};

}  // namespace wallfoot
