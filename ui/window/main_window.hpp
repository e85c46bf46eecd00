// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QMainWindow>
#include <QPointer>
#include <functional>
#include <map>
#include <memory>

#include "ui/sheet/sheet.hpp"
#include "ui/window/document.hpp"
#include "ui/window/recovery.hpp"
#include "ui/window/worker.hpp"

class QAction;
class QLabel;
class QLockFile;
class QMenu;
class QSplitter;
class QStackedWidget;
class QTimer;

namespace wallfoot {

class AnswerStrip;
class CompareView;
class ContentsPanel;
class DwellingDialog;
class FindingsPanel;
class MaterialsPanel;
struct OfficeTemplate;
class PiecePanel;
class ReportView;
class RulesPanel;
class TeachView;
class ToolChoice;
class VariantsStrip;
class WaterPanel;

/// The commands that take a tool in hand.
constexpr std::pair<const char*, Tool> tools[] = {{"draw.pick", Tool::pick},         {"draw.polygon", Tool::polygon}, {"draw.rectangle", Tool::rectangle}, {"draw.membrane", Tool::membrane},
                                                  {"draw.space", Tool::space},       {"draw.level", Tool::level},     {"draw.fill", Tool::fill},
                                                  {"draw.layers", Tool::layers},
                                                  {"change.move", Tool::move},       {"change.split", Tool::split},   {"change.hole", Tool::hole},           {"draw.measure", Tool::stretch},
                                                  {"draw.dimension", Tool::dimension}, {"draw.text", Tool::note},
                                                  {"draw.hidden", Tool::hidden}};

/// The window: the answer on top, contents, sheet and findings side by side, the variants and the status line below.
/// Presents and passes on; what an act does to the study is in core/study/edits.
class MainWindow : public QMainWindow {
    Q_OBJECT
  public:
    explicit MainWindow(Worker::Find find = {}, QWidget* parent = nullptr);
    ~MainWindow() override;

    /// Opens a file; faults are shown in a dialog and the present study stays. True when it was opened.
    bool open_file(const QString& path);
    bool open_report(const QString& path);
    void find_study();
    bool save_to(const QString& path);
    /// Adds the materials of a JSON or CSV file, by its ending; the refusals when nothing was added.
    std::vector<Message> import_materials_from(const QString& path);
    /// Writes the materials of the study; the reason when they could not be written.
    QString export_materials_to(const QString& path);
    /// Puts a picture, a page or a drawing below the section; asks what there is to ask, and says why where it cannot.
    void add_underlay_file(const QString& path, std::optional<QPointF> at);
    /// A file is being read or unpacked.
    bool reading() const { return !reading_.idle() || !sheet_->underlays().idle(); }
    /// The dwelling beside the study, opened where it is not; with a path that file.
    DwellingDialog* show_dwelling(const QString& path = {});
    /// Offers what programs that are gone left unsaved; true when one of them was opened.
    bool offer_recovery();
    Recovery& recovery() { return *recovery_; }

    Document& document() { return document_; }
    Worker& worker() { return worker_; }
    Sheet& sheet() { return *sheet_; }
    AnswerStrip& answer_strip() { return *answer_; }
    VariantsStrip& variants_strip() { return *variants_; }
    ContentsPanel& contents_panel() { return *contents_; }
    MaterialsPanel& materials_panel() { return *materials_; }
    PiecePanel& piece_panel() { return *piece_; }
    ToolChoice& tool_choice() { return *choice_; }
    FindingsPanel& findings_panel() { return *findings_panel_; }
    WaterPanel& water_panel() { return *water_panel_; }
    CompareView& compare_view() { return *compare_view_; }
    ReportView& report_view() { return *report_view_; }
    /// Writes the report as it is shown, in the form its ending says; false when it could not be written.
    QByteArray made_beside(const QString& what, const std::function<QByteArray()>& make);
    bool save_report(const QString& path);
    RulesPanel& rules_panel() { return *rules_panel_; }
    TeachView& teach_view() { return *teach_view_; }
    QAction* action(const QString& command) const { return actions_.at(command); }
    /// Findings of the active variant as shown; null while there are none for the present drawing.
    std::shared_ptr<const Findings> findings() const;
    bool at_rest() const { return at_rest_; }

  protected:
    void closeEvent(QCloseEvent*) override;

  private:
    struct Shown {
        std::shared_ptr<const Section> section;
        std::shared_ptr<const Findings> findings;  ///< null: `faults` says why
        std::vector<Message> faults;
    };

    void make_actions();
    /// The keys of all commands as they are now.
    void give_keys();
    void make_menus();
    void make_tool_row();
    QWidget* make_middle();
    void connect_parts();
    void bind(const char* command, std::function<void()> act) { bound_[QString::fromLatin1(command)] = std::move(act); }
    void bind_commands();
    void bind_view_commands();
    void bind_variant_commands();
    void bind_material_commands();
    void bind_site_commands();
    void bind_edit_commands();
    /// An act on what is picked; tells when nothing fits. `pieces`: pieces are needed.
    void change_picked(const QString& text, const std::function<Section(const Section&, const Taken&)>& edit, bool pieces = false);
    void paste();
    void copy_in_row();
    void rotate_picked();
    void merge_picked();
    void offset_edge_dialog();
    /// Of the picked piece: the hole that is picked, or the only one.
    void fill_hole();
    void add_guide(bool upright);
    void bind_underlay_commands();
    void fold_left();
    /// Makes an act of the whole study; the refusals when it changes nothing.
    std::vector<Message> change_study(const QString& text, const std::function<Study(const Study&)>& edit);
    void give_material_to_picked(const QString& key);
    void add_material_dialog(const QString& title, const Material& begin);
    void edit_material_dialog();
    void remove_marked_material();
    void import_materials_dialog();
    void export_materials_dialog();
    std::optional<Underlay> picked_underlay();
    /// Throws InputFault when it is refused.
    /// In the variant of that id, the one that was in view when the file was asked for. What is in hand stays in hand.
    void lay_below(const std::string& variant, Underlay underlay, const AttachedFile& file, QSizeF size_mm, std::optional<QPointF> at, const QString& hint);
    /// Reads a file away from this thread and goes on here with what `read` returns; says why where that throws.
    void read_away(const QString& name, std::function<Background::Done()> read, std::function<void(const QString& why)> failed);
    /// At once, or when nothing is dragged on the sheet any more.
    void arrive(std::function<void()> act);
    void not_added(const QString& name, const QString& why);
    void add_picture(const QString& path, const QString& name, std::optional<QPointF> at);
    void add_page(const QString& path, const QString& name, std::optional<QPointF> at);
    void add_drawing(const QString& path, const QString& name);
    void make_pieces(const std::vector<Outline>& outlines);
    void pieces_of_underlay();
    void scale_underlay();
    void place_underlay();
    void straighten_underlay();
    void straighten(const std::string& id, const std::vector<QPointF>& places, double width, double height);
    void save_copy_without_underlays();
    void export_drawing();

    bool holds_lock_of(const QString& path) const;
    /// Ask where another window has the file; the lock is null where none can be made.
    bool may_open(const QString& path, std::unique_ptr<QLockFile>* lock, bool* as_copy);
    bool may_save(const QString& path, std::unique_ptr<QLockFile>* lock);
    bool recover(const Recovery::LeftBehind& left);
    bool may_leave_study();
    void begin_study();
    void begin_from_detail();
    void ask_and_open();
    bool ask_and_save();
    void remember_recent(const QString& path);
    void fill_recent();
    void show_faults_dialog(const QString& path, const std::vector<Message>& faults);
    void list_commands();

    void study_changed();
    /// Asks for the answer with another conductivity, without changing the study; 1 = back to the study.
    void try_conductivity(const QString& material, double factor);
    void previewed(std::shared_ptr<const Section> section);
    void answered(const Answer& answer);
    void refresh();
    void refresh_strip(const Shown* shown);
    void refresh_strip_in_lesson();
    void refresh_titles();
    void go_to_fault(int step);
    void delete_picked();
    void reorder_picked(int by);
    void duplicate_picked();
    void stretch_dialog();
    void layers_dialog();
    /// A refusal in the status line, or nothing.
    void tell(const std::vector<Message>& refusals);
    void describe_variant_dialog(std::size_t variant);
    void errors_dialog();
    void variant_menu(std::size_t variant, QPoint at);
    void move_variant_by(int places);
    void sweep_dialog();
    void grid_dialog();
    void equal_dialog();
    void set_activity(Activity activity);
    void show_water();
    /// The report of what is there now, or why there is none.
    void show_report();
    void show_comparison();
    void show_lessons();
    void connect_teaching();
    /// Asks where to and writes the lesson in view: a page, worksheets or the picture.
    void save_lesson_as(const QString& what);
    void quantities_dialog();
    void equal_build_dialog();
    /// What stands in the sheet's place is made to fit the study.
    void show_in_place();
    void ask_and_save_report();
    void ask_and_pack();
    void project_dialog();
    void copy_answer();
    void reports_dialog();
    /// Asks for the user's own template of reports and keeps it for all studies.
    void office_dialog();
    void issue_dialog();
    void records_dialog();
    void show_rules();
    void site_dialog();
    void climate_dialog();
    void profile_dialog();
    void water_dialog();
    void ground_floor_dialog();
    /// Of the element of that id; an empty one asks which.
    void corrections_dialog(QString element);
    /// The place that an element is measured to is clicked on the sheet.
    void ask_element_place(const QString& element, CutSide cut, LengthSystem lengths);
    void show_lengths();
    void damp_dialog();
    void copy_questions();
    void draw_proposed_membrane(int piece);
    void set_dark(bool dark);
    void show_cursor(QPointF mm, const QString& snap);

    std::vector<Message> to_settle_;
    std::size_t fault_shown_ = 0;
    Document document_;
    Worker worker_;
    std::unique_ptr<Recovery> recovery_;
    Background reading_;  ///< files that come in
    std::unique_ptr<QLockFile> file_lock_;  ///< of the study's file
    std::uint64_t first_revision_ = 0, asked_ = 0;
    std::shared_ptr<const Section> preview_;
    bool trying_ = false;                                ///< what is shown is of a trial, not of the study
    std::map<std::string, Shown> answers_;               ///< by variant id
    std::shared_ptr<const Findings> last_sound_;         ///< of the active variant, kept greyed while there is a fault
    std::shared_ptr<const WaterReport> water_;           ///< of the active variant, as far as it is known
    QString water_trouble_;                              ///< why there is none
    std::shared_ptr<const FootReport> foot_;             ///< what the rules say of the active variant, once they were asked
    std::shared_ptr<const Study> foot_of_;               ///< and of which study
    bool at_rest_ = false;
    std::shared_ptr<const OfficeTemplate> office_;       ///< what heads the reports; null where there is none
    QPointer<DwellingDialog> dwelling_;
    QTimer* slow_ = nullptr;
    QTimer* place_due_ = nullptr;  ///< edits collapse before comparison or report are made again
    QPointF cursor_mm_;
    QString cursor_snap_, hint_;

    std::shared_ptr<const Section> copied_from_;         ///< what is copied is of this section
    Taken copied_;

    std::map<QString, QAction*> actions_;
    std::map<QString, std::function<void()>> bound_;
    QMenu* recent_ = nullptr;
    AnswerStrip* answer_ = nullptr;
    QSplitter* left_ = nullptr;
    ContentsPanel* contents_ = nullptr;
    MaterialsPanel* materials_ = nullptr;
    Sheet* sheet_ = nullptr;
    QWidget* right_ = nullptr;
    PiecePanel* piece_ = nullptr;
    QStackedWidget* told_ = nullptr;
    FindingsPanel* findings_panel_ = nullptr;
    WaterPanel* water_panel_ = nullptr;
    QStackedWidget* shown_ = nullptr;  ///< the sheet, or what stands in its place
    CompareView* compare_view_ = nullptr;
    ReportView* report_view_ = nullptr;
    RulesPanel* rules_panel_ = nullptr;
    TeachView* teach_view_ = nullptr;
    VariantsStrip* variants_ = nullptr;
    ToolChoice* choice_ = nullptr;
    QSplitter* middle_ = nullptr;
    QLabel* place_label_ = nullptr;
    QLabel* here_label_ = nullptr;
    QLabel* time_label_ = nullptr;
};

/// Starts the window; the exit status of the program.
int open_window(int argc, char** argv);

}  // namespace wallfoot
