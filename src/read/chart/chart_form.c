/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What can be wrong with a written chart, in the knitter's words. Rows are named by their
 * number from the bottom, columns by theirs from the right.
 */
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "chart_parts.h"
#include "chart_text.h"

enum { MARKS_NAMED_MAX = 6 };

static struct place row_place(const struct chart_text *r, const struct chart_row *row)
{
    return chart_text_place(r, row->line, row->from, row->to);
}

/* --- marks no yarn has --------------------------------------------------------------- */

/* The row's number as the knitter counts it. */
static int number_of(const struct chart_text *r, int row)
{
    return r->nrows - row;
}

/* Column from the right inside its part of the row; *part_name: "" or which side stitches. */
static int column_of(struct chart_text *r, const struct chart_row *row, const char *at,
                     const char **part_name)
{
    int column = 0, bars_behind = 0;

    for (const char *p = at; p < row->to;) {
        size_t nbytes;
        int code = chart_text_code(r, p, row->to, &nbytes);

        if (code == CHART_CODE_BAR)
            bars_behind++;
        else if (code != CHART_CODE_SPACE && bars_behind == 0)
            column++;
        p += nbytes;
    }
    *part_name = "";
    if (row->bars == 2 && bars_behind != 1)
        *part_name = bars_behind == 0 ? " of the side stitches at the right"
                                      : " of the side stitches at the left";
    return column;
}

/* The yarn whose mark is the same letter in the other case, or -1. */
static int other_case_yarn(const struct chart_text *r, const struct chart_strange *strange)
{
    char c = strange->at[0];
    int code = CHART_CODE_NONE;

    if (strange->nbytes == 1 && c >= 'a' && c <= 'z')
        code = r->code[c - 'a' + 'A'];
    if (strange->nbytes == 1 && c >= 'A' && c <= 'Z')
        code = r->code[c - 'A' + 'a'];
    return code >= 0 && code != GRID_NO_STITCH ? code : -1;
}

/* "The marks are . (cream), x (slate) and - (no stitch)." */
static const char *marks_sentence(struct chart_text *r)
{
    struct arena *arena = r->work->arena;
    const char *list = NULL;
    int named = 0, more = 0;

    for (int i = 0; i < r->project->nyarns; i++) {
        const struct yarn *yarn = &r->project->yarns[i];

        if (!yarn->mark.text)
            continue;
        if (named++ >= MARKS_NAMED_MAX) {
            more++;
            continue;
        }
        list = arena_printf(arena, "%s%s%s (%s)", list ? list : "", list ? ", " : "",
                            yarn->mark.text, yarn->name);
    }
    if (!list)
        return NULL;
    if (more > 0)
        list = arena_printf(arena, "%s, %d more", list, more);
    return arena_printf(arena, "The marks are %s and %s (no stitch).", list,
                        chart_text_no_stitch(r));
}

static const char *strange_todo(struct chart_text *r, const struct chart_strange *strange,
                                const char *marks)
{
    struct arena *arena = r->work->arena;
    int yarn = other_case_yarn(r, strange);

    if (yarn >= 0)
        return arena_printf(arena, "Did you mean %s (%s)? Capital and small letters differ.",
                            r->project->yarns[yarn].mark.text, r->project->yarns[yarn].name);
    if (strange->at[0] >= '0' && strange->at[0] <= '9')
        return arena_printf(arena,
                            "If it is part of a row number, set the number off from the "
                            "stitches with a space. %s",
                            marks);
    return arena_printf(arena, "%s Change it to one of them, or give a yarn `mark = %.*s`.", marks,
                        (int)strange->nbytes, strange->at);
}

static void strange_report(struct chart_text *r, const struct chart_strange *strange,
                           const char *marks)
{
    const struct chart_row *row = &r->rows[strange->row];
    const char *part_name;
    int column = column_of(r, row, strange->at, &part_name);
    const char *often =
        strange->count == 1
            ? ""
            : arena_printf(r->work->arena, "; it stands in the chart %ld times", strange->count);

    chart_text_fault(
        r, DIAG_CHART_MARK,
        chart_text_place(r, row->line, strange->at, strange->at + strange->nbytes),
        arena_printf(r->work->arena,
                     "No yarn has the mark %.*s (row %d from the bottom, column %d from the "
                     "right%s%s).",
                     (int)strange->nbytes, strange->at, number_of(r, strange->row), column,
                     part_name, often),
        strange_todo(r, strange, marks));
}

void chart_form_check_marks(struct chart_text *r)
{
    const char *marks = marks_sentence(r);
    struct place whole = {r->source, 0, 1, 1};

    if (r->hash_line > 0 && marks) {
        struct place at = {r->source, r->hash_line, 1, 1};

        chart_text_fault(r, DIAG_CHART_MARK, at, "The line starts with #, which is no yarn's mark.",
                         "If it is a comment, start it with ; instead.");
    }
    if (!marks && r->nrows > 0) {
        chart_text_fault(r, DIAG_CHART_MARK, whole,
                         "No yarn has a mark, so the chart cannot be read.",
                         "Give each [yarn] the mark it has in the chart: `mark = x`.");
        return;
    }
    for (int i = 0; i < r->nstrange; i++)
        strange_report(r, &r->strange[i], marks);
    if (r->strange_more > 0)
        chart_text_fault(r, DIAG_CHART_MARK, whole,
                         arena_printf(r->work->arena, "%ld more squares have marks no yarn has.",
                                      r->strange_more),
                         "Is this file a chart? Give its name in `chart =`.");
}

/* --- the form of the rows ------------------------------------------------------------ */

static int compare_ints(const void *a, const void *b)
{
    const int *x = a, *y = b;

    return (*x > *y) - (*x < *y);
}

/* The value most of them have, the largest of several such; *times it is there. Sorts them. */
static int mode_of(int *values, int count, int *times)
{
    int best = 0, run = 0;

    *times = 0;
    qsort(values, (size_t)count, sizeof *values, compare_ints);
    for (int i = 0; i < count; i++) {
        run = i > 0 && values[i] == values[i - 1] ? run + 1 : 1;
        if (run >= *times) {
            best = values[i];
            *times = run;
        }
    }
    return best;
}

static int row_squares(const struct chart_row *row)
{
    return row->part[0] + row->part[1] + row->part[2];
}

static const char *what_others_have(int times, int of)
{
    if (times == of - 1)
        return of == 2 ? "the other has" : "the others have";
    return 2 * times > of ? "most rows have" : "the commonest number is";
}

static void ragged_report(struct chart_text *r, int index, int width, int times)
{
    struct arena *arena = r->work->arena;
    int squares = row_squares(&r->rows[index]), off = abs(squares - width);

    chart_text_fault(
        r, DIAG_CHART_RAGGED, row_place(r, &r->rows[index]),
        arena_printf(arena, "Row %d has %s; %s %d.", number_of(r, index),
                     chart_count(arena, squares, "stitch", "stitches"),
                     what_others_have(times, r->nrows), width),
        squares > width
            ? arena_printf(arena, "Take out %s.", chart_count(arena, off, "mark", "marks"))
            : arena_printf(arena, "Put in %s; a square without a stitch is %s.",
                           chart_count(arena, off, "mark", "marks"), chart_text_no_stitch(r)));
}

/* Whatever its bars, a row can be counted. */
static void widths_check(struct chart_text *r, int *values)
{
    int width, times;

    for (int i = 0; i < r->nrows; i++)
        values[i] = row_squares(&r->rows[i]);
    width = mode_of(values, r->nrows, &times);
    for (int i = 0; i < r->nrows; i++) {
        if (row_squares(&r->rows[i]) == width)
            continue;
        r->rows[i].is_fine = false;
        ragged_report(r, i, width, times);
    }
}

static const char bars_todo[] =
    "Side stitches of flat work stand outside two bars: `left | repeat | right`; with none at "
    "one side, `| repeat | right` or `left | repeat |`; with none at all, leave the bars out.";

/* One bar, or three and more: said once where every row has the same. */
static void bars_count_check(struct chart_text *r)
{
    struct arena *arena = r->work->arena;
    int same = 0;

    for (int i = 0; i < r->nrows; i++) {
        r->rows[i].is_fine = r->rows[i].bars == 0 || r->rows[i].bars == 2;
        same += r->rows[i].bars == r->rows[0].bars;
    }
    for (int i = 0; i < r->nrows; i++) {
        const struct chart_row *row = &r->rows[i];
        bool every = same == r->nrows && same > 1;
        const char *who =
            every ? "Every row has" : arena_printf(arena, "Row %d has", number_of(r, i));

        if (row->is_fine)
            continue;
        chart_text_fault(r, DIAG_CHART_BARS, row_place(r, row),
                         row->bars == 1 ? arena_printf(arena, "%s one bar only.", who)
                                        : arena_printf(arena, "%s %d bars.", who, row->bars),
                         bars_todo);
        if (every)
            return;
    }
}

static void barred_report(struct chart_text *r, int index, bool most_barred)
{
    r->rows[index].is_fine = false;
    chart_text_fault(r, DIAG_CHART_BARS, row_place(r, &r->rows[index]),
                     arena_printf(r->work->arena, "Row %d has %s.", number_of(r, index),
                                  most_barred ? "no bars, and other rows have"
                                              : "two bars, and other rows have none"),
                     bars_todo);
}

/* All rows have bars, or none. */
static bool barred_check(struct chart_text *r)
{
    int barred = 0, plain = 0;
    bool most;

    for (int i = 0; i < r->nrows; i++)
        if (r->rows[i].is_fine) {
            barred += r->rows[i].bars == 2;
            plain += r->rows[i].bars == 0;
        }
    most = barred >= plain && barred > 0;
    for (int i = 0; i < r->nrows; i++)
        if (r->rows[i].is_fine && (r->rows[i].bars == 2) != most)
            barred_report(r, i, most);
    return most;
}

/* The bars stand in the same columns all the way up. */
static void bars_place_check(struct chart_text *r, int *values)
{
    struct arena *arena = r->work->arena;
    int count = 0, left, times;
    const struct chart_row *model = NULL;

    for (int i = 0; i < r->nrows; i++)
        if (r->rows[i].is_fine)
            values[count++] = r->rows[i].part[0] * (GRID_SIDE_MAX + 1) + r->rows[i].part[2];
    left = mode_of(values, count, &times);
    for (int i = 0; i < r->nrows && !model; i++)
        if (r->rows[i].is_fine &&
            r->rows[i].part[0] * (GRID_SIDE_MAX + 1) + r->rows[i].part[2] == left)
            model = &r->rows[i];
    for (int i = 0; i < r->nrows && model; i++) {
        const struct chart_row *row = &r->rows[i];

        if (!row->is_fine || (row->part[0] == model->part[0] && row->part[2] == model->part[2]))
            continue;
        chart_text_fault(
            r, DIAG_CHART_BARS, row_place(r, row),
            arena_printf(arena,
                         "Row %d has %d side stitches at the left and %d at the right; %s %d "
                         "and %d.",
                         number_of(r, i), row->part[0], row->part[2],
                         2 * times > count ? "most rows have" : "other rows have", model->part[0],
                         model->part[2]),
            "Put the bars in the same columns in every row.");
    }
}

/* A row of nothing but empty squares between its bars. */
static void stitches_check(struct chart_text *r)
{
    for (int i = 0; i < r->nrows; i++) {
        const struct chart_row *row = &r->rows[i];
        const char *bar =
            row->bars == 2 ? memchr(row->from, '|', (size_t)(row->to - row->from)) : NULL;
        const char *p = bar ? bar + 1 : row->from;
        size_t nbytes;
        int code = CHART_CODE_SPACE;

        for (; p < row->to && (code == CHART_CODE_SPACE || code == GRID_NO_STITCH); p += nbytes)
            code = chart_text_code(r, p, row->to, &nbytes);
        if (row->bars != 1 && row->bars < 3 &&
            (code == CHART_CODE_SPACE || code == GRID_NO_STITCH || code == CHART_CODE_BAR))
            chart_text_fault(r, DIAG_CHART_EMPTY, row_place(r, row),
                             arena_printf(r->work->arena, "Row %d has no stitch%s.",
                                          number_of(r, i),
                                          row->bars == 2 ? " between its bars" : ""),
                             "Give it at least one, or take the row out.");
    }
}

static bool sizes_check(struct chart_text *r)
{
    for (int i = 0; i < r->nrows; i++) {
        if (row_squares(&r->rows[i]) <= GRID_SIDE_MAX)
            continue;
        chart_text_fault(r, DIAG_CHART_SIZE, row_place(r, &r->rows[i]),
                         arena_printf(r->work->arena,
                                      "Row %d has %d stitches; a chart may have %d.",
                                      number_of(r, i), row_squares(&r->rows[i]), GRID_SIDE_MAX),
                         "Chart one repeat; the plan works it as often as it fits.");
        return false;
    }
    return true;
}

void chart_form_check_rows(struct chart_text *r)
{
    int *values = arena_alloc(r->work->arena, (size_t)r->nrows, sizeof *values);

    if (!sizes_check(r))
        return;
    bars_count_check(r);
    widths_check(r, values);
    if (barred_check(r))
        bars_place_check(r, values);
    stitches_check(r);
}
