// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/commands/commands.hpp"

#include <QCoreApplication>
#include <stdexcept>

namespace wallfoot {

// The marker lets the translation tools find the texts in the table.
#define TEXT(text) QT_TRANSLATE_NOOP("Commands", text)

const std::vector<Command>& commands() {
    static const std::vector<Command> table = {
        {"file.new", TEXT("&File"), TEXT("&New"), "Ctrl+N", TEXT("Begin a study with an empty section.")},
        {"file.new_from_detail", TEXT("&File"), TEXT("New from a &detail…"), "Ctrl+Shift+N", TEXT("Begin a study from a usual detail with your own dimensions.")},
        {"file.open", TEXT("&File"), TEXT("&Open…"), "Ctrl+O", TEXT("Open a study file."), Command::in_tool_row},
        {"file.find", TEXT("&File"), TEXT("&Find a study…"), "Ctrl+Shift+O", TEXT("Look for an earlier study by block, detail, soil or enquiry number.")},
        {"file.save", TEXT("&File"), TEXT("&Save"), "Ctrl+S", TEXT("Save the study to its file."), Command::in_tool_row},
        {"file.save_as", TEXT("&File"), TEXT("Save &as…"), "Ctrl+Shift+S", TEXT("Save the study to another file and go on with that.")},
        {"file.export", TEXT("&File"), TEXT("&Export drawing…"), "Ctrl+Shift+E", TEXT("Write the lines of the section as DXF or SVG, on layers, in mm.")},
        {"file.head", TEXT("&File"), TEXT("&Head of the report…"), "", TEXT("Enter title, question, project, enquiry number, author and checker.")},
        {"file.report", TEXT("&File"), TEXT("Save the &report…"), "Ctrl+P", TEXT("Write the report of all variants as PDF, HTML, CSV or JSON.")},
        {"file.reports", TEXT("&File"), TEXT("Reports of a fo&lder…"), "", TEXT("Write reports of all studies below a folder, with a list of them.")},
        {"file.template", TEXT("&File"), TEXT("&Template of the reports…"), "", TEXT("Enter logo, name, contact and texts of your own that stand on all your reports.")},
        {"file.issue", TEXT("&File"), TEXT("&Issue…"), "", TEXT("Freeze the results of all variants in the study: who, why, and a full copy of what they rest on.")},
        {"file.records", TEXT("&File"), TEXT("Issued re&cords…"), "", TEXT("Show what was issued of this study, and work it out again.")},
        {"file.pack", TEXT("&File"), TEXT("&Pack for a checker…"), "", TEXT("Write what another program needs to build the junctions again and compare: geometry, conductivities, surfaces, control points, results.")},
        {"file.dwelling", TEXT("&File"), TEXT("D&welling…"), "Ctrl+Shift+H", TEXT("List the junctions of a whole dwelling with their lengths and values, what they come to together, and the sheet for a calculation.")},
        {"file.quit", TEXT("&File"), TEXT("&Quit"), "Ctrl+Q", TEXT("Close the window.")},

        {"edit.undo", TEXT("&Edit"), TEXT("&Undo"), "Ctrl+Z", TEXT("Take the last act back; while drawing: the last corner."), Command::in_tool_row},
        {"edit.redo", TEXT("&Edit"), TEXT("&Redo"), "Ctrl+Shift+Z Ctrl+Y", TEXT("Do again what was taken back."), Command::in_tool_row},
        {"edit.delete", TEXT("&Edit"), TEXT("&Delete"), "Del", TEXT("Take the picked piece, membrane, mark or level out of the section.")},
        {"edit.duplicate", TEXT("&Edit"), TEXT("Du&plicate piece"), "Ctrl+Shift+D", TEXT("Make one more of the picked piece, beside it on its right.")},
        {"edit.stretch", TEXT("&Edit"), TEXT("&Stretch…"), "Ctrl+T", TEXT("Make a dimension longer or shorter: all beyond a straight line moves.")},
        {"edit.mirror", TEXT("&Edit"), TEXT("&Mirror left and right"), "", TEXT("Show the section from the other side.")},

        {"edit.copy", TEXT("&Edit"), TEXT("&Copy"), "Ctrl+C", TEXT("Keep a copy of what is picked, to be pasted here or in another variant.")},
        {"edit.paste", TEXT("&Edit"), TEXT("P&aste"), "Ctrl+V", TEXT("Put in what was copied, at the same place.")},
        {"edit.all_variants", TEXT("&Edit"), TEXT("Edits &go to all variants"), "", TEXT("While this is on, an act is made in every variant that has what is edited; one step of undo takes it back everywhere."), Command::menu_only, "", true},

        {"draw.pick", TEXT("&Draw"), TEXT("P&ick"), "S", TEXT("Pick a piece, membrane, mark or level; drag it or its corners and edges. Click again for what lies below."), Command::in_tool_row, "tool", true},
        {"draw.polygon", TEXT("&Draw"), TEXT("&Polygon"), "P", TEXT("Draw a piece corner by corner: click, or type a length. Enter closes it."), Command::in_tool_row, "tool", true},
        {"draw.rectangle", TEXT("&Draw"), TEXT("&Rectangle"), "R", TEXT("Draw a rectangular piece by two corners: click, or type its size."), Command::in_tool_row, "tool", true},
        {"draw.membrane", TEXT("&Draw"), TEXT("&Membrane"), "M", TEXT("Draw a membrane along corners and edges; it follows the edges between two clicks. Enter ends it."), Command::in_tool_row, "tool", true},
        {"draw.space", TEXT("&Draw"), TEXT("&Space mark"), "A", TEXT("Say whose air a region is: click into it."), Command::in_tool_row, "tool", true},
        {"draw.level", TEXT("&Draw"), TEXT("&Level"), "E", TEXT("Set the floor, ground or damp-proof course level: click, or type its height."), Command::in_tool_row, "tool", true},
        {"draw.fill", TEXT("&Draw"), TEXT("&Fill region"), "G", TEXT("Fill a region that no piece covers with a piece: click into it."), Command::in_tool_row, "tool", true},
        {"draw.layers", TEXT("&Draw"), TEXT("La&yers…"), "B", TEXT("Type the layers of a wall or floor, then draw the line they lie along."), Command::in_tool_row, "tool", true},
        {"draw.measure", TEXT("&Draw"), TEXT("Meas&ure line"), "T", TEXT("Draw a line through what is to grow: a named measure, whose length can be typed or dragged; all beyond the line moves."), Command::menu_only, "tool", true},
        {"draw.dimension", TEXT("&Draw"), TEXT("&Dimension"), "D", TEXT("Show the length between two points; its value can be typed over, and what lies beyond moves."), Command::menu_only, "tool", true},
        {"draw.text", TEXT("&Draw"), TEXT("&Text"), "N", TEXT("Write a text on the drawing."), Command::menu_only, "tool", true},

        {"draw.hidden", TEXT("&Draw"), TEXT("&Hidden surface"), "U", TEXT("Draw along a stretch of inside surface that nobody sees, such as behind a skirting, and say why: it is left out of the lowest surface temperature."), Command::menu_only, "tool", true},

        {"change.move", TEXT("&Change"), TEXT("&Move by points"), "V", TEXT("Move what is picked from one point to another: click both, or type dx and dy."), Command::menu_only, "tool", true},
        {"change.copies", TEXT("&Change"), TEXT("&Row of copies…"), "Shift+R", TEXT("Make a number of copies of what is picked, each the same step further on.")},
        {"change.rotate", TEXT("&Change"), TEXT("&Turn…"), "Shift+T", TEXT("Turn what is picked about a point; quarters of a turn are exact.")},
        {"change.mirror", TEXT("&Change"), TEXT("M&irror left and right"), "Shift+M", TEXT("Mirror what is picked about its own middle.")},
        {"change.flip", TEXT("&Change"), TEXT("Mirror &up and down"), "", TEXT("Mirror what is picked about the level line through its middle.")},
        {"change.split", TEXT("&Change"), TEXT("&Split by a line"), "K", TEXT("Split the picked pieces along a straight line through two points."), Command::menu_only, "tool", true},
        {"change.merge", TEXT("&Change"), TEXT("Make &one piece"), "Shift+K", TEXT("Make one piece of those picked; they touch along an edge and have the same filling.")},
        {"change.offset", TEXT("&Change"), TEXT("Move &edge by…"), "O", TEXT("Move the edge of the picked piece that was clicked last, square to itself, by a typed distance; what shares it follows.")},
        {"change.hole", TEXT("&Change"), TEXT("&Hole in the piece"), "H", TEXT("Draw a hole in the picked piece; it shows what lies below."), Command::menu_only, "tool", true},
        {"change.fill_hole", TEXT("&Change"), TEXT("&Fill the hole"), "Shift+H", TEXT("Take a hole out of the picked piece: the one that is picked, or its only one. Click into a hole, or on its edge, to pick it.")},
        {"change.group", TEXT("&Change"), TEXT("&Group"), "Ctrl+G", TEXT("Let what is picked be picked together from now on.")},
        {"change.ungroup", TEXT("&Change"), TEXT("U&ngroup"), "Ctrl+Shift+G", TEXT("Dissolve the group of what is picked.")},

        {"move.left", TEXT("&Move"), TEXT("&Left 1 mm"), "Left", TEXT("Move what is picked 1 mm to the left; with nothing picked, the sheet."), Command::key_on_sheet},
        {"move.right", TEXT("&Move"), TEXT("&Right 1 mm"), "Right", TEXT("Move what is picked 1 mm to the right; with nothing picked, the sheet."), Command::key_on_sheet},
        {"move.up", TEXT("&Move"), TEXT("&Up 1 mm"), "Up", TEXT("Move what is picked 1 mm up; with nothing picked, the sheet."), Command::key_on_sheet},
        {"move.down", TEXT("&Move"), TEXT("&Down 1 mm"), "Down", TEXT("Move what is picked 1 mm down; with nothing picked, the sheet."), Command::key_on_sheet},
        {"move.left_far", TEXT("&Move"), TEXT("L&eft 10 mm"), "Shift+Left", TEXT("Move what is picked 10 mm to the left; with nothing picked, the sheet."), Command::key_on_sheet},
        {"move.right_far", TEXT("&Move"), TEXT("R&ight 10 mm"), "Shift+Right", TEXT("Move what is picked 10 mm to the right; with nothing picked, the sheet."), Command::key_on_sheet},
        {"move.up_far", TEXT("&Move"), TEXT("U&p 10 mm"), "Shift+Up", TEXT("Move what is picked 10 mm up; with nothing picked, the sheet."), Command::key_on_sheet},
        {"move.down_far", TEXT("&Move"), TEXT("D&own 10 mm"), "Shift+Down", TEXT("Move what is picked 10 mm down; with nothing picked, the sheet."), Command::key_on_sheet},
        {"move.raise", TEXT("&Move"), TEXT("Up in the &stack"), "Ctrl+Up", TEXT("Let the picked piece cover the next one above it.")},
        {"move.lower", TEXT("&Move"), TEXT("Down in the s&tack"), "Ctrl+Down", TEXT("Let the picked piece be covered by the next one below it.")},
        {"move.to_top", TEXT("&Move"), TEXT("Top of the stac&k"), "Ctrl+Shift+Up", TEXT("Let the picked piece cover all others.")},
        {"move.to_bottom", TEXT("&Move"), TEXT("&Bottom of the stack"), "Ctrl+Shift+Down", TEXT("Let the picked piece be covered by all others, as soil is.")},

        {"view.draw", TEXT("&View"), TEXT("&Draw"), "F2", TEXT("Draw: the section with its materials."), Command::menu_only, "activity", true},
        {"view.heat", TEXT("&View"), TEXT("&Heat"), "F3", TEXT("Heat: temperatures and the way of the heat over the section."), Command::menu_only, "activity", true},
        {"view.water", TEXT("&View"), TEXT("&Water"), "F5", TEXT("Water: which pieces water reaches and by which way, and the least membrane that would keep one dry."), Command::menu_only, "activity", true},
        {"view.rules", TEXT("&View"), TEXT("R&ules"), "F11", TEXT("Rules: what is asked at the foot of a wall, what is met, and what is open."), Command::menu_only, "activity", true},
        {"view.compare", TEXT("&View"), TEXT("Com&pare"), "F12", TEXT("Compare: the variants side by side, with what differs and by how much."), Command::menu_only, "activity", true},
        {"view.report", TEXT("&View"), TEXT("&Report"), "F6", TEXT("Report: the pages as they will be printed."), Command::menu_only, "activity", true},
        {"view.teach", TEXT("&View"), TEXT("Te&ach"), "F10", TEXT("Teach: lessons made of views of this study, with questions, tracers and sliders."), Command::menu_only, "activity", true},
        {"view.isotherms", TEXT("&View"), TEXT("&Isotherms"), "I", TEXT("Show lines of equal temperature in Heat."), Command::menu_only, "", true},
        {"view.flow_lines", TEXT("&View"), TEXT("Heat-flow &lines"), "L", TEXT("Show heat-flow lines in Heat; each gap between two carries the same heat."), Command::menu_only, "", true},
        {"view.lengths", TEXT("&View"), TEXT("Lengths &behind psi"), "J", TEXT("Show on the drawing the length of each wall and floor that U is multiplied by when psi is found: from where to where, and how long."), Command::menu_only, "", true},
        {"view.other_lengths", TEXT("&View"), TEXT("Lengths of the other system (internal / e&xternal)"), "Shift+J", TEXT("Show those lengths in the system that the convention does not use."), Command::menu_only, "", true},
        {"view.fit", TEXT("&View"), TEXT("&Fit"), "F", TEXT("Show the whole section."), Command::in_tool_row},
        {"view.zoom_in", TEXT("&View"), TEXT("Zoom i&n"), "Ctrl++ Ctrl+=", TEXT("Show less of the section, larger.")},
        {"view.zoom_out", TEXT("&View"), TEXT("Zoom &out"), "Ctrl+-", TEXT("Show more of the section, smaller.")},
        {"view.next_fault", TEXT("&View"), TEXT("Next thing to &settle"), "F4", TEXT("Go to the next place where something is wrong with the drawing.")},
        {"view.grid", TEXT("&View"), TEXT("Grid of a st&ep…"), "", TEXT("Switch a grid on with a step of your own, or off."), Command::menu_only, "", true},
        {"view.upright_guide", TEXT("&View"), TEXT("Uprigh&t guide…"), "", TEXT("Lay an upright line over the sheet that holds the cursor.")},
        {"view.level_guide", TEXT("&View"), TEXT("Le&vel guide…"), "", TEXT("Lay a level line over the sheet that holds the cursor.")},
        {"view.no_guides", TEXT("&View"), TEXT("Take guides awa&y"), "", TEXT("Take all guides off the sheet.")},
        {"view.contents", TEXT("&View"), TEXT("&Contents panel"), "F7", TEXT("Show or fold away the list of contents."), Command::menu_only, "", true},
        {"view.materials", TEXT("&View"), TEXT("&Materials panel"), "F9", TEXT("Show or fold away the list of materials."), Command::menu_only, "", true},
        {"view.findings", TEXT("&View"), TEXT("Findin&gs panel"), "F8", TEXT("Show or fold away properties and findings."), Command::menu_only, "", true},
        {"view.dark", TEXT("&View"), TEXT("Dar&k colours"), "", TEXT("Light lines on a dark sheet."), Command::menu_only, "", true},

        {"underlay.add", TEXT("&Underlay"), TEXT("&Add…"), "Ctrl+U", TEXT("Put a picture, a page of a PDF or a DXF drawing below the section, to trace. Dropping the file on the sheet does the same.")},
        {"underlay.scale", TEXT("&Underlay"), TEXT("&Scale by a known length…"), "Ctrl+L", TEXT("Click two places of the underlay and type how far apart they are.")},
        {"underlay.place", TEXT("&Underlay"), TEXT("&Move onto a point"), "", TEXT("Click a place of the underlay and the point where it belongs.")},
        {"underlay.straighten", TEXT("&Underlay"), TEXT("S&traighten photo…"), "", TEXT("Click the four corners of a rectangle in the photo and type its sides: the photo is seen from the front then, and to scale.")},
        {"underlay.lock", TEXT("&Underlay"), TEXT("&Lock or unlock"), "Ctrl+K", TEXT("Keep the underlay where it is, or let it be dragged.")},
        {"underlay.pieces", TEXT("&Underlay"), TEXT("Closed outlines become &pieces"), "", TEXT("Make a piece of every closed outline of a DXF drawing below the section.")},
        {"underlay.copy_without", TEXT("&Underlay"), TEXT("Save a &copy without underlays…"), "", TEXT("Save a smaller copy of the study to pass on; this one stays as it is.")},

        {"material.give", TEXT("Ma&terials"), TEXT("&Give to picked piece"), "Ctrl+M", TEXT("Give the material marked in the list to the picked piece.")},
        {"material.add", TEXT("Ma&terials"), TEXT("&Add…"), "Ctrl+Shift+M", TEXT("Enter a material of your own as the paper in hand says it.")},
        {"material.edit", TEXT("Ma&terials"), TEXT("&Edit…"), "Ctrl+E", TEXT("Change the marked material in all variants; one of the general table is copied into the study first.")},
        {"material.duplicate", TEXT("Ma&terials"), TEXT("&Duplicate"), "", TEXT("Make a copy of the marked material in the study.")},
        {"material.remove", TEXT("Ma&terials"), TEXT("&Remove"), "", TEXT("Take the marked material out of the study when no piece uses it.")},
        {"material.import", TEXT("Ma&terials"), TEXT("&Import…"), "", TEXT("Add materials from a JSON or CSV file to the study.")},
        {"material.export", TEXT("Ma&terials"), TEXT("E&xport…"), "", TEXT("Write the materials of the study as JSON or CSV.")},
        {"material.find", TEXT("Ma&terials"), TEXT("&Find"), "Ctrl+F", TEXT("Search the list of materials.")},

        {"site.facts", TEXT("&Site"), TEXT("Site &facts…"), "Ctrl+Shift+F", TEXT("State what is known of the site, each with its source, and which rules are asked.")},
        {"site.water", TEXT("&Site"), TEXT("&Water at the foot…"), "Ctrl+Shift+W", TEXT("State where water comes from at this section: soil, rain, cavity, standing water and its level.")},
        {"site.climate", TEXT("&Site"), TEXT("Con&vention and climate…"), "Ctrl+Shift+V", TEXT("Choose the convention that everything is worked out by, and state the months and the air inside that surfaces are checked in.")},
        {"site.floor", TEXT("&Site"), TEXT("&Ground floor of the building…"), "", TEXT("State area and exposed perimeter of the whole ground floor, and how wide the section takes it to be.")},
        {"site.corrections", TEXT("&Site"), TEXT("Fi&xings and air gaps…"), "", TEXT("State ties, screws and gaps that the U of a wall or floor is corrected for, beside psi.")},
        {"site.profile", TEXT("&Site"), TEXT("&Along the surface…"), "Ctrl+Shift+I", TEXT("Show temperature and humidity along the inside surface as a curve.")},
        {"site.damp", TEXT("&Site"), TEXT("What damp c&osts…"), "Ctrl+Shift+Y", TEXT("Show psi with one piece in every moisture condition, another material beside it in the same place, and how wet it may get before it is no better.")},
        {"site.errors", TEXT("&Site"), TEXT("Usual &errors…"), "Ctrl+Shift+X", TEXT("Look for what is often drawn or read wrongly, with what it does to psi and fRsi here, and mend it in one step.")},
        {"site.copy_questions", TEXT("&Site"), TEXT("&Copy the questions"), "", TEXT("Copy the questions that are open at the wall foot, to paste into a reply.")},

        {"variant.duplicate", TEXT("V&ariants"), TEXT("&Duplicate"), "Ctrl+D", TEXT("Make a copy of this variant to change and compare.")},
        {"variant.rename", TEXT("V&ariants"), TEXT("&Name and note…"), "Ctrl+R", TEXT("Give this variant another name, and note what it is for.")},
        {"variant.earlier", TEXT("V&ariants"), TEXT("Move &forward"), "Ctrl+Shift+PgUp", TEXT("Move this variant one place to the front; the first one is what all others are compared with.")},
        {"variant.later", TEXT("V&ariants"), TEXT("Move &back"), "Ctrl+Shift+PgDown", TEXT("Move this variant one place to the back; the first one is what all others are compared with.")},
        {"variant.marks", TEXT("V&ariants"), TEXT("What differs, on the dra&wing"), "Ctrl+Shift+K", TEXT("Outline on the drawing what this variant has otherwise than the first one, with the number of each sentence in the list beside it."), Command::menu_only, "", true},
        {"variant.remove", TEXT("V&ariants"), TEXT("Re&move"), "", TEXT("Take this variant out of the study.")},
        {"variant.sweep", TEXT("V&ariants"), TEXT("&Sweep…"), "Ctrl+Shift+L", TEXT("Go through one or two parameters of this variant step by step – a measure, a conductivity, a moisture condition, a temperature – and plot psi and fRsi.")},
        {"variant.grid", TEXT("V&ariants"), TEXT("&Grid of variants…"), "Ctrl+Shift+R", TEXT("Make a variant of every combination of blocks, moisture conditions, numbers of courses and what to begin from, as one act.")},
        {"variant.equal", TEXT("V&ariants"), TEXT("&Equal partner…"), "Ctrl+Shift+Q", TEXT("Find which conductivity, thickness, depth or membrane makes this variant as good as another in psi, fRsi or both.")},
        {"variant.next", TEXT("V&ariants"), TEXT("Ne&xt"), "Ctrl+PgDown", TEXT("Go to the next variant.")},
        {"variant.previous", TEXT("V&ariants"), TEXT("&Previous"), "Ctrl+PgUp", TEXT("Go to the variant before.")},

        {"help.keys", TEXT("&Help"), TEXT("&Commands and keys"), "F1", TEXT("List every command with its key.")},
    };
    return table;
}

const Command& command(const QString& id) {
    for (const auto& entry : commands())
        if (id == entry.id) return entry;
    throw std::out_of_range("no such command: " + id.toStdString());
}

QString translated(const char* text) { return QCoreApplication::translate("Commands", text); }

}  // namespace wallfoot
