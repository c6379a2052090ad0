/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The words under a chart in characters: what each mark is, and which strands are meant where
 * one sign stands for several.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "text_parts.h"
#include "words/say.h"

static const char *yarn_name(const struct text_chart *chart, int yarn)
{
    return words_yarn(&chart->page, yarn);
}

/* A line of the legend: a stitch with what is behind it, and what that is. */
static void add_entry(struct text_chart *chart, int yarn, int sign, const char *words)
{
    int under = yarn >= 0 ? chart->drawing->plan->piece.yarns[yarn].over : -1;

    text_add(chart->out, "  ");
    if (yarn >= 0)
        draw_text_paint(chart, yarn);
    draw_text_add(chart, yarn >= 0 ? chart->mark[yarn] : "", chart->mark_columns);
    draw_text_paint(chart, sign < SIGN_NONE ? sign : under >= 0 ? under : yarn);
    draw_text_add(chart, sign < SIGN_NONE ? chart->mark[sign] : chart->sign[sign], 1);
    draw_text_paint(chart, -1);
    text_add(chart->out, "  ");
    page_wrap(&chart->page, words, chart->mark_columns + 5, chart->mark_columns + 5);
    text_add(chart->out, "\n");
}

/* A yarn the strand is caught behind, for the sample: that of the first such catch. */
static int yarn_before(const struct text_chart *chart, int sign)
{
    for (int64_t i = 0; i < chart->ncaught; i++)
        if (*draw_text_behind(chart, chart->caught[i].row, chart->caught[i].column) == sign)
            return plan_drawn_cell(chart->drawing->band, chart->caught[i].row, chart->caught[i].column, true);
    return -1;
}

static void list_yarns(struct text_chart *chart)
{
    const struct drawing *drawing = chart->drawing;
    const struct plan_piece *piece = &drawing->plan->piece;
    bool under[GRID_YARNS_MAX] = {false}; /* knitted, and sewn over somewhere */

    for (int yarn = 0; yarn < piece->nyarns; yarn++)
        if (drawing->seen[yarn] && piece->yarns[yarn].over >= 0)
            under[piece->yarns[yarn].over] = true;
    for (int yarn = 0; yarn < piece->nyarns; yarn++) {
        int over = piece->yarns[yarn].over;

        if (over < 0 && (drawing->seen[yarn] || under[yarn]))
            add_entry(chart, yarn, SIGN_NONE, yarn_name(chart, yarn));
        else if (over >= 0 && drawing->seen[yarn] && !drawing->wrong_side)
            add_entry(chart, yarn, SIGN_NONE,
                      words_format(&chart->page, "%s, sewn on afterwards; knit %s there",
                                   yarn_name(chart, yarn), yarn_name(chart, over)));
    }
    if (drawing->seen_empty)
        add_entry(chart, -1, SIGN_NONE, "(left empty) no stitch: pass over it");
}

static void list_signs(struct text_chart *chart)
{
    const struct drawing *drawing = chart->drawing;
    const struct page *page = &chart->page;

    for (int yarn = 0; yarn < drawing->plan->piece.nyarns; yarn++)
        if (chart->seen[yarn])
            add_entry(chart, yarn_before(chart, yarn), yarn,
                      words_format(page, "catch %s behind this stitch", yarn_name(chart, yarn)));
    if (chart->seen[SIGN_MANY])
        add_entry(chart, -1, SIGN_MANY, "more than one strand is caught behind this stitch: see below");
    if (chart->seen[SIGN_EDGE])
        add_entry(chart, -1, SIGN_EDGE, "caught only in the repeat beside an edge: see below");
    if (chart->seen[SIGN_LEFT_OUT])
        add_entry(chart, -1, SIGN_LEFT_OUT,
                  "caught in every repeat but the one beside an edge: see below");
    if (chart->seen[SIGN_LYING])
        add_entry(chart, -1, SIGN_LYING,
                  words_format(page, "a strand over %s, too long to leave, passes behind it",
                               words_count(page, drawing->band->leave_sts, "stitch", "stitches")));
    if (chart->seen[SIGN_LYING_MANY])
        add_entry(chart, -1, SIGN_LYING_MANY, "more than one such strand");
}

static void list_changes(struct text_chart *chart)
{
    bool any = false;

    for (int number = 0; number <= RECOLOUR_ONES_MAX; number++) {
        const char *words = draw_change_words(chart->drawing, number);

        if (words)
            add_entry(chart, -1, SIGN_CHANGE + number, words);
        any = any || words;
    }
    if (!any)
        page_say(&chart->page, 2,
                 chart->drawing->band->recolours.too_large
                     ? "This band is too large to be searched for stitches to change."
                 : chart->drawing->band->worked_fewest == 0 ? "This band needs no catch."
                                                            : "No stitch was found that, changed with its "
                                                              "partners, saves a catch.");
}

static const char *stitch_words(const struct text_chart *chart, int column)
{
    const struct drawing *drawing = chart->drawing;
    bool beside = column < drawing->right_cols;
    bool beyond = column >= drawing->right_cols + drawing->band->drawn.ncols;

    bool at_right = drawing->wrong_side ? beyond : beside; /* as it is seen */

    return words_format(&chart->page, "behind %sstitch %d%s", beside || beyond ? "side " : "",
                        draw_text_number(drawing, column),
                        !beside && !beyond ? "" : at_right ? " at the right" : " at the left");
}

/* Where it does not stand in every repeat. From the wrong side that is left to the right side. */
static const char *standing_words(const struct text_chart *chart, const struct drawn_catch *caught)
{
    if (chart->drawing->wrong_side)
        return "";
    if (caught->edge)
        return caught->right_edge && caught->left_edge ? " (both edges only)"
               : caught->right_edge                    ? " (right edge only)"
                                                       : " (left edge only)";
    if (caught->not_right || caught->not_left)
        return caught->not_right && caught->not_left ? " (not beside the edges)"
               : caught->not_right                   ? " (not beside the right edge)"
                                                     : " (not beside the left edge)";
    return "";
}

/* "behind stitch 17 green (left edge only) and rust" */
static int64_t add_shared(const struct text_chart *chart, struct text *words, const struct drawn_catch *first)
{
    text_addf(words, "%s%s ", words->length > 0 ? "; " : "", stitch_words(chart, first->column));
    for (int i = 0; i < first->of; i++)
        text_addf(words, "%s%s%s", i == 0 ? "" : i + 1 < first->of ? ", " : " and ",
                  yarn_name(chart, first[i].strand), standing_words(chart, &first[i]));
    return first->of;
}

static bool is_listed(const struct text_chart *chart, const struct drawn_catch *caught)
{
    return caught->of == 1 && *standing_words(chart, caught);
}

/* Alone behind their stitches and of one kind: always of the repeat. "behind stitches 3 and 8 moss
 * (not beside the right edge)". Those before caught[i] that are alike are listed already. */
static void add_alike(const struct text_chart *chart, struct text *words, int64_t first, int64_t i)
{
    const struct drawn_catch *caught = &chart->caught[i];
    int *numbers = arena_alloc(chart->drawing->work->arena, (size_t)chart->drawing->ncols + 1,
                               sizeof *numbers);
    int count = 0;

    for (int64_t k = first; k < chart->ncaught && chart->caught[k].row == caught->row; k++) {
        const struct drawn_catch *other = &chart->caught[k];

        if (!is_listed(chart, other) || other->strand != caught->strand ||
            strcmp(standing_words(chart, other), standing_words(chart, caught)) != 0)
            continue;
        if (k < i)
            return;
        numbers[count++] = draw_text_number(chart->drawing, other->column);
    }
    text_addf(words, "%sbehind stitch%s %s %s%s", words->length > 0 ? "; " : "",
              count == 1 ? "" : "es", words_numbers(&chart->page, numbers, count),
              yarn_name(chart, caught->strand), standing_words(chart, caught));
}

/* Row by row upwards, those with a sign that does not say which strand. */
static void list_shared(struct text_chart *chart)
{
    const char *round = say_rounds(chart->drawing->plan->round)->One;

    for (int64_t i = 0; i < chart->ncaught;) {
        int row = chart->caught[i].row;
        int64_t first = i;
        struct text words = text_create(chart->drawing->work->arena);

        while (i < chart->ncaught && chart->caught[i].row == row) {
            if (chart->caught[i].of > 1) {
                i += add_shared(chart, &words, &chart->caught[i]);
                continue;
            }
            if (is_listed(chart, &chart->caught[i]))
                add_alike(chart, &words, first, i);
            i++;
        }
        if (words.length > 0)
            page_item(&chart->page, 2, words_format(&chart->page, "%s %d:", round, row + 1),
                      words_format(&chart->page, "%s.", words.bytes));
    }
}

void draw_text_legend(struct text_chart *chart)
{
    list_yarns(chart);
    if (chart->style->changes) {
        list_changes(chart);
        return;
    }
    list_signs(chart);
    if (draw_edge_words(chart->drawing, true))
        page_say(&chart->page, 2, draw_edge_words(chart->drawing, true));
    list_shared(chart);
}
