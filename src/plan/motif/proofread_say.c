/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is doubtful in a chart, in words, each with the place where it is written.
 */
#include <math.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/work.h"
#include "proofread.h"
#include "words/say.h"

struct saying {
    struct work *work;
    const struct project *project;
    const struct proof_chart *chart;
    bool round;
};

static const char *yarn_name(const struct saying *say, uint8_t yarn)
{
    return yarn == GRID_NO_STITCH ? "no stitch" : say->project->yarns[yarn].name;
}

static void note(const struct saying *say, enum diag_code code, int row, int column,
                 const char *what, const char *todo)
{
    diag_add(say->work->diagnostics, code, chart_place(say->chart->chart, row, column), what, todo);
}

/* --- symmetries ------------------------------------------------------------------------- */

/* "about round 9", "between rounds 9 and 10"; sum: of the two numbers from 0 that are partners. Of the
 * two axes of a ring the one nearer the middle of the chart. */
static const char *axis_words(struct work *work, const char *what, const char *many, int sum, int count,
                              bool ring)
{
    if (ring && sum < (count - 1) / 2)
        sum += count;
    if (sum % 2 == 0)
        return arena_printf(work->arena, "about %s %d", what, sum / 2 + 1);
    if (sum / 2 + 1 >= count)
        return "at the join";
    return arena_printf(work->arena, "between %s %d and %d", many, sum / 2 + 1, sum / 2 + 2);
}

static const char *shift_words(struct work *work, bool round, const struct symmetry *shift)
{
    const char *rows = say_rounds_count(work->arena, shift->row, round);
    const char *columns = say_stitches(work->arena, shift->column);

    if (shift->row == 0)
        return arena_printf(work->arena, "the shift by %s", columns);
    if (shift->column == 0)
        return arena_printf(work->arena, "the shift by %s", rows);
    return arena_printf(work->arena, "the half-drop by %s and %s", rows, columns);
}

/* ", moved up 4 rounds"; a glide. */
static const char *moved_words(struct work *work, const char *way, int steps, const char *one,
                               const char *many)
{
    return steps == 0 ? "" : arena_printf(work->arena, ", moved %s %d %s", way, steps, steps == 1 ? one : many);
}

const char *proof_symmetry_words(struct work *work, const struct proof_chart *chart, bool round,
                                 const struct symmetry *symmetry)
{
    const struct symmetry_field *field = &chart->field;
    const char *row = say_rounds(round)->one, *rows = say_rounds(round)->many;

    switch (symmetry->kind) {
    case SYMMETRY_ACROSS:
        return arena_printf(work->arena, "the mirror %s%s",
                            axis_words(work, "stitch", "stitches", symmetry->column,
                                       field->grid->ncols, field->ring),
                            moved_words(work, "up", symmetry->row, row, rows));
    case SYMMETRY_UPSIDE:
        return arena_printf(work->arena, "the mirror %s%s",
                            axis_words(work, row, rows, symmetry->row, field->grid->nrows,
                                       field->ring_rows),
                            moved_words(work, "along", symmetry->column, "stitch", "stitches"));
    case SYMMETRY_TURN:
        return "the half-turn";
    case SYMMETRY_ALONG:
    case SYMMETRY_DROP:
    case SYMMETRY_KINDS:
        break;
    }
    return shift_words(work, round, symmetry);
}

/* "stitch 10", or of another row "stitch 10 of round 3". */
static const char *partner_words(const struct saying *say, const struct proof_fault *fault)
{
    struct arena *arena = say->work->arena;

    if (fault->partner_row < 0)
        return arena_printf(arena, "the ground beyond the edge");
    if (fault->partner_row == fault->row)
        return arena_printf(arena, "stitch %d", fault->partner_column + 1);
    return arena_printf(arena, "stitch %d of %s %d", fault->partner_column + 1,
                        say_rounds(say->round)->one, fault->partner_row + 1);
}

static void say_fault(const struct saying *say, const struct proof_fault *fault)
{
    struct arena *arena = say->work->arena;
    const struct symmetry *broken = &say->chart->symmetries.of[say->chart->broken];

    note(say, DIAG_CHART_PARTNER, fault->row, fault->column,
         arena_printf(arena,
                      "%s %d, stitch %d has no partner: it is %s, and %s would have it %s, as %s is.",
                      say_rounds(say->round)->One, fault->row + 1, fault->column + 1,
                      yarn_name(say, fault->yarn),
                      proof_symmetry_words(say->work, say->chart, say->round, broken),
                      yarn_name(say, fault->wanted), partner_words(say, fault)),
         fault->likely ? "Likely this one is the slip. Change it, or leave it if it is meant so."
                       : "Change one of the two, or leave it if it is meant so.");
}

/* "4 stitches along", "2 stitches to the left and 2 rounds up"; both at once: "2 stitches aside and 2 rounds up" */
static const char *step_words(const struct saying *say, int rows, int columns, bool both)
{
    struct arena *arena = say->work->arena;
    int along = columns < 0 ? -columns : columns;
    const char *stitches = say_stitches(arena, along);
    const char *up = arena_printf(arena, "%s up", say_rounds_count(arena, rows, say->round));

    if (rows == 0)
        return arena_printf(arena, "%s along", stitches);
    if (columns == 0)
        return up;
    return arena_printf(arena, "%s %s and %s", stitches,
                        both          ? "aside"
                        : columns > 0 ? "to the left"
                                      : "to the right",
                        up);
}

static const char *steps_words(const struct saying *say)
{
    const struct proof_steps *steps = &say->chart->steps;
    int rows[2] = {steps->step[0].rows, steps->step[1].rows};
    int columns[2] = {steps->step[0].columns, steps->step[1].columns};

    if (rows[0] == rows[1] && columns[0] == -columns[1])
        return step_words(say, rows[0], columns[0], true);
    return arena_printf(say->work->arena, "%s, or %s", step_words(say, rows[0], columns[0], false),
                        step_words(say, rows[1], columns[1], false));
}

static void say_hole(const struct saying *say, const struct proof_hole *hole)
{
    struct arena *arena = say->work->arena;
    const char *row = say_rounds(say->round)->one;
    const char *beside =
        hole->beside_row < 0
            ? ""
            : arena_printf(arena, "; one stands beside its place, %s %d, stitch %d", row,
                           hole->beside_row + 1, hole->beside_column + 1);

    note(say, DIAG_CHART_SEEDING, hole->row, hole->column,
         arena_printf(arena,
                      "%s %d, stitch %d seems left out: round it single stitches of %s stand at regular "
                      "steps, %s%s.",
                      say_rounds(say->round)->One, hole->row + 1, hole->column + 1,
                      yarn_name(say, hole->yarn),
                      steps_words(say), beside),
         hole->beside_row < 0
             ? arena_printf(arena, "Make it %s, or leave it if it is meant so.", yarn_name(say, hole->yarn))
             : "Move that one here, or leave it if it is meant so.");
}

/* --- whole rows ------------------------------------------------------------------------ */

static const char *colours_words(const struct saying *say, const struct row_slip *slip)
{
    return arena_printf(say->work->arena, "%s and %s", yarn_name(say, slip->yarn[0]),
                        yarn_name(say, slip->yarn[1]));
}

/* What is seen, as it begins a sentence. */
static const char *slip_words(const struct saying *say, const struct row_slip *slip)
{
    struct arena *arena = say->work->arena;
    const char *row = say_rounds(say->round)->one, *Row = say_rounds(say->round)->One;
    int number = slip->row + 1, below = slip->row == 0 ? say->chart->field.grid->nrows : slip->row;

    switch (slip->kind) {
    case ROW_SHIFTED:
        return arena_printf(arena, "%s %d looks shifted by one stitch to the %s: shifted back", Row, number,
                            slip->column > 0 ? "left" : "right");
    case ROW_EXCHANGED:
        return arena_printf(arena, "%s %d looks as if %s were exchanged in it: exchanged back", Row, number,
                            colours_words(say, slip));
    case ROW_SWAPPED:
        return arena_printf(arena, "%ss %d and %d look as if they had changed places: changed back", Row,
                            number, number + 1);
    case ROW_MISSING:
        return arena_printf(arena, "A %s seems to be missing between %ss %d and %d: with one there%s", row,
                            row, below, number,
                            slip->symmetry.row_is_mirrored || slip->symmetry.column_is_mirrored
                                ? arena_printf(arena, " that goes with %s %d", row, slip->like + 1)
                                : arena_printf(arena, " like %s %d moved along", row, slip->like + 1));
    case ROW_DOUBLED:
        return arena_printf(arena, "%ss %d %s %d are the same, and one of them seems too many: without it", Row,
                            number, slip->last > slip->row + 1 ? "to" : "and", slip->last + 1);
    }
    return "";
}

/* In the middle of a sentence, what would do as well. */
static const char *other_words(const struct saying *say, const struct row_slip *slip)
{
    struct arena *arena = say->work->arena;
    const char *row = say_rounds(say->round)->one;
    int number = slip->row + 1, below = slip->row == 0 ? say->chart->field.grid->nrows : slip->row;

    switch (slip->kind) {
    case ROW_SHIFTED:
        return arena_printf(arena, "%s %d shifted one stitch to the %s", row, number,
                            slip->column > 0 ? "right" : "left");
    case ROW_EXCHANGED:
        return arena_printf(arena, "%s %d with %s exchanged", row, number, colours_words(say, slip));
    case ROW_SWAPPED:
        return arena_printf(arena, "%ss %d and %d in each other's place", row, number, number + 1);
    case ROW_MISSING:
        return arena_printf(arena, "a %s put in between %ss %d and %d", row, row, below, number);
    case ROW_DOUBLED:
        return arena_printf(arena, "one of %ss %d %s %d left out, which are the same", row, number,
                            slip->last > slip->row + 1 ? "to" : "and", slip->last + 1);
    }
    return "";
}

static void say_slip(const struct saying *say)
{
    struct arena *arena = say->work->arena;
    const struct proof_chart *chart = say->chart;
    const struct row_slip *slip = &chart->slips[0];
    struct grid mended_grid = {slip->nrows, chart->field.grid->ncols, NULL};
    struct proof_chart mended = *chart;
    bool either = chart->nslips > 1, counted = slip->nrows != chart->field.grid->nrows;

    mended.field.grid = &mended_grid; /* its size is all the words need */
    note(say, DIAG_CHART_ROW, slip->row, chart->field.grid->ncols - 1,
         arena_printf(arena, "%s, the chart keeps %s%s, as %d stitches of other %ss do.%s",
                      slip_words(say, slip),
                      proof_symmetry_words(say->work, &mended, say->round, &slip->symmetry),
                      counted ? arena_printf(arena, " (of %d %ss then)", slip->nrows,
                                             say_rounds(say->round)->one)
                              : "",
                      slip->agreeing, say_rounds(say->round)->one,
                      either ? arena_printf(arena, " So it would with %s.", other_words(say, &chart->slips[1]))
                             : ""),
         either ? "Look which of the two it is. Change that, or leave it if it is meant so."
                : "Change it, or leave it if it is meant so.");
}

/* --- joins ----------------------------------------------------------------------------- */

/* Once for all rows that repeat themselves alike. */
static void say_row(const struct saying *say, int index)
{
    struct arena *arena = say->work->arena;
    const struct proof_row *row = &say->chart->rows[index];
    int ncols = say->chart->field.grid->ncols, more = 0;
    int below = ncols / row->period * row->period;

    for (int i = 0; i < index; i++)
        if (say->chart->rows[i].period == row->period)
            return;
    for (int i = index + 1; i < say->chart->nrows; i++)
        more += say->chart->rows[i].period == row->period;
    note(say, DIAG_CHART_MEET, row->row, ncols - 1,
         arena_printf(arena,
                      "%s %d%s repeats every %d stitches and does not meet itself where stitch %d "
                      "comes to stand beside stitch 1.",
                      say_rounds(say->round)->One, row->row + 1,
                      more > 0 ? arena_printf(arena, ", like %d more,", more) : "", row->period, ncols),
         arena_printf(arena, "%d or %d stitches would meet. Leave it if it is meant so.", below,
                      below + row->period));
}

static void say_gap(const struct saying *say, const struct proof_gap *gap)
{
    note(say, DIAG_CHART_MEET, gap->row, say->chart->field.grid->ncols - 1,
         arena_printf(say->work->arena,
                      "A line of %s ends at stitch %d of %s %d and begins again at stitch 1 of %s %d: "
                      "it does not meet over the join of the repeat.",
                      yarn_name(say, gap->yarn), say->chart->field.grid->ncols,
                      say_rounds(say->round)->one, gap->row + 1, say_rounds(say->round)->one,
                      gap->other_row + 1),
         "Draw two repeats side by side to see it. Leave it if it is meant so.");
}

static void say_gap_up(const struct saying *say, const struct proof_gap *gap)
{
    int nrows = say->chart->field.grid->nrows;

    note(say, DIAG_CHART_MEET, nrows - 1, gap->row,
         arena_printf(say->work->arena,
                      "A line of %s ends at stitch %d of %s %d and begins again at stitch %d of %s 1 "
                      "above it: it does not meet where the chart is worked again upwards.",
                      yarn_name(say, gap->yarn), gap->row + 1, say_rounds(say->round)->one, nrows,
                      gap->other_row + 1, say_rounds(say->round)->one),
         "Draw one chart above the other to see it. Leave it if it is meant so.");
}

/* --- strays, shades ---------------------------------------------------------------------- */

static void say_stray(const struct saying *say, const struct proof_stray *stray)
{
    const struct grid *grid = say->chart->field.grid;
    uint8_t yarn = grid_at(grid, stray->row, stray->column);

    note(say, DIAG_CHART_STRAY, stray->row, stray->column,
         arena_printf(say->work->arena,
                      "%s %d, stitch %d stands alone: none of the eight round it is %s, as hardly "
                      "anywhere else in the chart.",
                      say_rounds(say->round)->One, stray->row + 1, stray->column + 1,
                      yarn_name(say, yarn)),
         "Change it, or leave it if it is meant so.");
}

static void say_shades(struct work *work, const struct project *project,
                       const struct proof_shades *shades, bool round)
{
    const struct yarn *yarn = &project->yarns[shades->yarn], *other = &project->yarns[shades->other];

    bool alone = shades->alone_row >= 0;

    if (!shades->close || (!alone && shades->beside_row < 0))
        return;
    diag_add(work->diagnostics, DIAG_SHADES_CLOSE, other->shade.at,
             arena_printf(work->arena,
                          "%s and %s are %.0f %% apart in lightness and will read as one, as in %s %d "
                          "of %s, where they %s.",
                          yarn->name, other->name, 100.0 * shades->apart, say_rounds(round)->one,
                          (alone ? shades->alone_row : shades->beside_row) + 1,
                          project->parts[shades->part].name,
                          alone ? "are the only two" : "stand beside each other"),
             "Look at both balls through half-closed eyes, or in a grey photograph, before you knit.");
}

void proofread_say(struct work *work, const struct project *project, const struct proofreading *read)
{
    bool round = project->worked.value == WORKED_ROUND;

    for (int i = 0; i < read->ncharts; i++) {
        struct saying say = {work, project, &read->charts[i], round};
        const struct proof_chart *chart = say.chart;

        for (int k = 0; k < chart->nfaults; k++)
            say_fault(&say, &chart->faults[k]);
        if (chart->nslips > 0)
            say_slip(&say);
        for (int k = 0; k < chart->nholes; k++)
            say_hole(&say, &chart->holes[k]);
        for (int k = 0; k < chart->nrows; k++)
            say_row(&say, k);
        for (int k = 0; k < chart->ngaps; k++)
            say_gap(&say, &chart->gaps[k]);
        for (int k = 0; k < chart->ngaps_up; k++)
            say_gap_up(&say, &chart->gaps_up[k]);
        for (int k = 0; k < chart->nstrays; k++)
            say_stray(&say, &chart->strays[k]);
    }
    for (int i = 0; i < read->nshades; i++)
        say_shades(work, project, &read->shades[i], round);
}
