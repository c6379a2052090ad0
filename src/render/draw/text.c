/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A chart in characters. A stitch is its yarn's mark and a place behind it, in which a strand
 * caught there has its own mark: the chart reads in any window, printed, and without colour.
 */
#include "text.h"

#include <string.h>

#include "base/arena.h"
#include "base/shade.h"
#include "base/work.h"
#include "text_parts.h"

enum gap { GAP_NONE, GAP_FIVE, GAP_TEN, GAP_BAR };
enum { GAP_COLUMNS = 2, BLACK = 16, WHITE = 231 };

/* Columns first .. end - 1 of the chart. */
struct panel {
    int first, end;
};

/* --- marks ----------------------------------------------------------------------------- */

static bool is_mark(const struct text_chart *chart, const char *sign)
{
    for (int i = 0; i < chart->drawing->plan->piece.nyarns; i++)
        if (chart->mark[i] && strcmp(chart->mark[i], sign) == 0)
            return true;
    return false;
}

/* The first of them that is no yarn's mark. */
static const char *free_sign(const struct text_chart *chart, const char *among)
{
    const char *sign = "";

    for (; *among; among++) {
        sign = words_format(&chart->page, "%c", *among);
        if (!is_mark(chart, sign))
            return sign;
    }
    return sign;
}

/* Of the stitches that could be changed: 1, 2, ..., or letters where a yarn's mark is one of those. */
static void choose_numbers(struct text_chart *chart)
{
    for (int i = 0; i < RECOLOUR_ONES_MAX; i++) {
        const char number[] = {(char)('1' + i), (char)('A' + i), (char)('a' + i), '\0'};

        chart->sign[SIGN_CHANGE + i] = free_sign(chart, number);
    }
    chart->sign[SIGN_CHANGE_LAST] = free_sign(chart, "=#:");
}

/* A yarn that has no mark, as in charts that are pictures: a letter, of its name if one is free. */
static void choose_marks(struct text_chart *chart)
{
    const struct plan_piece *piece = &chart->drawing->plan->piece;

    for (int i = 0; i < piece->nyarns; i++)
        chart->mark[i] = piece->yarns[i].mark && *piece->yarns[i].mark ? piece->yarns[i].mark : NULL;
    for (int i = 0; i < piece->nyarns; i++)
        if (!chart->mark[i]) {
            struct text letters = text_create(chart->drawing->work->arena);

            for (const char *at = piece->yarns[i].name; *at; at++)
                if ((*at >= 'a' && *at <= 'z') || (*at >= 'A' && *at <= 'Z'))
                    text_add_bytes(&letters, at, 1);
            text_add(&letters, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789@$%&");
            chart->mark[i] = free_sign(chart, letters.bytes);
        }
    chart->sign[SIGN_NONE] = "";
    chart->sign[SIGN_MANY] = free_sign(chart, "+&%$");
    chart->sign[SIGN_EDGE] = free_sign(chart, "'^`,");
    chart->sign[SIGN_LEFT_OUT] = free_sign(chart, "!;*\"");
    chart->sign[SIGN_LYING] = free_sign(chart, "-_~");
    chart->sign[SIGN_LYING_MANY] = free_sign(chart, "=#:");
    choose_numbers(chart);
    chart->mark_columns = 1;
    for (int i = 0; i < piece->nyarns; i++)
        if (text_columns(chart->mark[i]) > chart->mark_columns)
            chart->mark_columns = text_columns(chart->mark[i]);
}

/* --- shades ---------------------------------------------------------------------------- */

/* The 256 colours of terminals: 16 that each sets as it likes, a cube of six steps, 24 greys. */
static void terminal_rgb(int code, unsigned char rgb[3])
{
    static const unsigned char step[6] = {0, 95, 135, 175, 215, 255};
    int in_cube = code - 16;

    for (int i = 2; i >= 0; i--, in_cube /= 6)
        rgb[i] = code < 232 ? step[in_cube % 6] : (unsigned char)(8 + 10 * (code - 232));
}

/* Straight through L*, a*, b*: far apart as these are, CIEDE2000 would make rust bare red, and
 * plain red, green and blue would make a dark green grey. */
int draw_text_nearest(const unsigned char rgb[3])
{
    double wanted[3], least = 0;
    int nearest = 0;

    shade_lab(rgb, wanted);
    for (int code = 16; code < 256; code++) {
        unsigned char of[3];
        double lab[3], distance = 0;

        terminal_rgb(code, of);
        shade_lab(of, lab);
        for (int i = 0; i < 3; i++)
            distance += (lab[i] - wanted[i]) * (lab[i] - wanted[i]);
        if (nearest == 0 || distance < least) {
            nearest = code;
            least = distance;
        }
    }
    return nearest;
}

void draw_text_paint(struct text_chart *chart, int yarn)
{
    if (!chart->style->colour || yarn == chart->painted)
        return;
    if (yarn < 0) {
        text_add(chart->out, "\033[0m");
    } else {
        struct sheet_shade shade = draw_shade(chart->drawing, yarn);
        unsigned char shown[3] = {shade.r, shade.g, shade.b};
        int ink;

        if (!chart->style->true_colour)
            terminal_rgb(chart->ground[yarn], shown);
        ink = draw_against((struct sheet_shade){shown[0], shown[1], shown[2]}).r > 0 ? WHITE : BLACK;
        if (chart->style->true_colour)
            text_addf(chart->out, "\033[38;5;%d;48;2;%d;%d;%dm", ink, shade.r, shade.g, shade.b);
        else
            text_addf(chart->out, "\033[38;5;%d;48;5;%dm", ink, chart->ground[yarn]);
    }
    chart->painted = yarn;
}

/* --- what is behind -------------------------------------------------------------------- */

uint8_t *draw_text_behind(const struct text_chart *chart, int row, int column)
{
    return &chart->behind[(size_t)row * (size_t)chart->drawing->ncols + (size_t)column];
}

static void note_long_strands(struct text_chart *chart)
{
    const struct drawing *drawing = chart->drawing;

    for (int row = 0; row < drawing->nrows; row++) {
        int count;
        const struct strand *strands =
            plan_row_strands(drawing->work, drawing->plan, drawing->band, row, &count);

        for (int i = 0; i < count; i++) {
            int first = strands[i].from + !strands[i].from_open;

            for (int column = first; strands[i].over_limit && column < strands[i].to; column++) {
                uint8_t *behind = draw_text_behind(chart, row, column);

                *behind = *behind == SIGN_NONE ? SIGN_LYING : SIGN_LYING_MANY;
                chart->seen[*behind] = true;
            }
        }
    }
}

static void note_changes(struct text_chart *chart)
{
    uint8_t yarn;

    for (int row = 0; row < chart->drawing->nrows; row++)
        for (int column = 0; column < chart->drawing->ncols; column++) {
            int number = draw_change_at(chart->drawing, row, column, &yarn);

            if (number >= 0)
                *draw_text_behind(chart, row, column) = (uint8_t)(SIGN_CHANGE + number);
        }
}

static void note_behind(struct text_chart *chart)
{
    struct drawing *drawing = chart->drawing;
    size_t cells = (size_t)drawing->nrows * (size_t)drawing->ncols;

    chart->behind = arena_alloc(drawing->work->arena, cells + 1, 1);
    memset(chart->behind, SIGN_NONE, cells);
    if (chart->style->changes) {
        note_changes(chart);
        return;
    }
    if (drawing->wrong_side)
        note_long_strands(chart);
    chart->caught = draw_catches(drawing, &chart->ncaught);
    for (int64_t i = 0; i < chart->ncaught; i++) {
        const struct drawn_catch *caught = &chart->caught[i];
        enum draw_standing standing = draw_standing_of(caught);
        uint8_t sign = caught->of > 1                                      ? SIGN_MANY
                       : drawing->wrong_side || standing == STANDING_ALL ? caught->strand
                       : standing == STANDING_EDGE                       ? SIGN_EDGE
                                                                         : SIGN_LEFT_OUT;

        *draw_text_behind(chart, caught->row, caught->column) = sign;
        chart->seen[sign] = true;
    }
}

/* --- a line of the chart --------------------------------------------------------------- */

/* What stands at the right of a column: the line between it and the one before. */
static enum gap gap_at(const struct drawing *drawing, int column)
{
    int from = column - drawing->right_cols, repeat = drawing->band->drawn.ncols;

    if (from == 0 || from == repeat)
        return GAP_BAR;
    if (from < 0)
        from = column;
    else if (from > repeat)
        from -= repeat;
    if (column == 0 || column == drawing->ncols)
        return GAP_NONE;
    return from % 10 == 0 ? GAP_TEN : from % 5 == 0 ? GAP_FIVE : GAP_NONE;
}

static int gap_columns(const struct drawing *drawing, int column)
{
    return gap_at(drawing, column) == GAP_NONE ? 0 : GAP_COLUMNS;
}

/* Columns of the window for the stitches of a panel and all lines between and round them. */
static int panel_columns(const struct text_chart *chart, struct panel panel)
{
    int columns = (panel.end - panel.first) * (chart->mark_columns + 1);

    for (int column = panel.first; column <= panel.end; column++)
        columns += gap_columns(chart->drawing, column);
    return columns;
}

/* The panel's columns from the left: the how-many-th, its column, the line before it. */
static int column_at(const struct text_chart *chart, struct panel panel, int place)
{
    return chart->drawing->wrong_side ? panel.first + place : panel.end - 1 - place;
}

static int line_before(const struct text_chart *chart, struct panel panel, int place)
{
    return chart->drawing->wrong_side ? panel.first + place : panel.end - place;
}

static void add_gap(struct text_chart *chart, enum gap gap)
{
    static const char *const words[] = {"", "  ", ": ", "| "};

    if (gap == GAP_NONE)
        return;
    draw_text_paint(chart, -1);
    text_add(chart->out, words[gap]);
}

void draw_text_add(struct text_chart *chart, const char *word, int columns)
{
    text_add(chart->out, word);
    text_repeat(chart->out, ' ', columns - text_columns(word));
}

static void add_stitch(struct text_chart *chart, int row, int column)
{
    const struct drawing *drawing = chart->drawing;
    uint8_t under = plan_drawn_cell(drawing->band, row, column, true);
    uint8_t shown = drawing->wrong_side ? under : plan_drawn_cell(drawing->band, row, column, false);
    int sign = *draw_text_behind(chart, row, column);

    if (shown == GRID_NO_STITCH) {
        draw_text_paint(chart, -1);
        text_repeat(chart->out, ' ', chart->mark_columns);
    } else {
        draw_text_paint(chart, shown);
        draw_text_add(chart, chart->mark[shown], chart->mark_columns);
        draw_text_paint(chart, sign < SIGN_NONE ? sign : under);
    }
    draw_text_add(chart, sign < SIGN_NONE ? chart->mark[sign] : chart->sign[sign], 1);
}

/* Blanks at the end of a line would be copied along with the chart. */
static void end_line(struct text_chart *chart)
{
    struct text *out = chart->out;

    draw_text_paint(chart, -1);
    while (out->length > 0 && out->bytes[out->length - 1] == ' ')
        out->bytes[--out->length] = '\0';
    text_add(out, "\n");
}

static void add_row(struct text_chart *chart, struct panel panel, int row)
{
    const struct drawing *drawing = chart->drawing;
    const char *number = words_format(&chart->page, "%d", row + 1);
    bool at_right = draw_begins_at_right(drawing, row);
    int count = panel.end - panel.first;

    text_repeat(chart->out, ' ', chart->number_columns - (at_right ? 0 : text_columns(number)));
    text_add(chart->out, at_right ? "" : number);
    text_add(chart->out, " ");
    for (int place = 0; place <= count; place++) {
        add_gap(chart, gap_at(drawing, line_before(chart, panel, place)));
        if (place < count)
            add_stitch(chart, row, column_at(chart, panel, place));
    }
    draw_text_paint(chart, -1);
    if (at_right)
        text_addf(chart->out, "%s%*s",
                  gap_at(drawing, line_before(chart, panel, count)) == GAP_NONE ? " " : "",
                  chart->number_columns, number);
    end_line(chart);
}

/* Above the tenth rows, and over and under the repeat. */
static void add_rule(struct text_chart *chart, struct panel panel, bool edge)
{
    const struct drawing *drawing = chart->drawing;
    int count = panel.end - panel.first, right = drawing->right_cols;

    text_repeat(chart->out, ' ', chart->number_columns + 1);
    for (int place = 0; place <= count; place++) {
        int column = place < count ? column_at(chart, panel, place) : -1;
        bool within = column >= right && column < right + drawing->band->drawn.ncols;
        enum gap gap = gap_at(drawing, line_before(chart, panel, place));
        char fill = edge && !within ? ' ' : edge ? '-' : '.';

        if (gap == GAP_BAR)
            text_addf(chart->out, "%c%c", edge ? '+' : '|', place < count ? fill : ' ');
        else if (gap != GAP_NONE)
            text_repeat(chart->out, fill, GAP_COLUMNS);
        if (column >= 0)
            text_repeat(chart->out, fill, chart->mark_columns + 1);
    }
    end_line(chart);
}

/* --- numbers of the columns ------------------------------------------------------------ */

int draw_text_number(const struct drawing *drawing, int column)
{
    int from = column - drawing->right_cols;

    if (from < 0)
        return column + 1;
    return (from < drawing->band->drawn.ncols ? from : from - drawing->band->drawn.ncols) + 1;
}

/* Side stitches are few, and begin anew: each has its number. */
static bool is_side(const struct drawing *drawing, int column)
{
    return column < drawing->right_cols ||
           column >= drawing->right_cols + drawing->band->drawn.ncols;
}

/* Their last digit under the mark; one that would touch another is left out. */
static void add_numbers(struct text_chart *chart, struct panel panel)
{
    int at = chart->number_columns + 1, free_from = 0;
    int count = panel.end - panel.first;

    for (int place = 0; place < count; place++) {
        int column = column_at(chart, panel, place);
        int number = draw_text_number(chart->drawing, column);
        bool wanted = number == 1 || number % 5 == 0 || is_side(chart->drawing, column);
        const char *word = words_format(&chart->page, "%d", number);
        int begin;

        at += gap_columns(chart->drawing, line_before(chart, panel, place));
        begin = at + 1 - text_columns(word);
        if (wanted && begin >= free_from) {
            text_repeat(chart->out, ' ', begin - (free_from > 0 ? free_from - 1 : 0));
            text_add(chart->out, word);
            free_from = at + 2;
        }
        at += chart->mark_columns + 1;
    }
    end_line(chart);
}

/* --- panels ---------------------------------------------------------------------------- */

/* As many whole tens (of the repeat, of the sides) as the window holds, one at least. */
static struct panel next_panel(const struct text_chart *chart, int first)
{
    int room = chart->style->width - 2 * chart->number_columns - 2;
    int ncols = chart->drawing->ncols;
    struct panel panel = {first, 0};

    for (int end = first + 1; end <= ncols; end++) {
        enum gap gap = gap_at(chart->drawing, end);
        struct panel wider = {first, end};

        if (end < ncols && gap != GAP_TEN && gap != GAP_BAR)
            continue;
        if (panel.end > 0 && panel_columns(chart, wider) > room)
            break;
        panel = wider;
    }
    return panel;
}

static const char *panel_words(const struct text_chart *chart, struct panel panel)
{
    const struct drawing *drawing = chart->drawing;
    int right = drawing->right_cols, left = right + drawing->band->drawn.ncols;
    int from = panel.first > right ? panel.first : right, to = panel.end < left ? panel.end : left;
    struct text words = text_create(drawing->work->arena);

    /* mirrored, what is at the right of the chart stands at the left */
    if (panel.first < right)
        text_addf(&words, "side stitches at the %s", drawing->wrong_side ? "left" : "right");
    if (from < to)
        text_addf(&words, "%sstitches %s", words.length > 0 ? ", " : "",
                  words_range(&chart->page, from - right + 1, to - right));
    if (panel.end > left)
        text_addf(&words, "%sside stitches at the %s", words.length > 0 ? ", " : "",
                  drawing->wrong_side ? "right" : "left");
    if (words.length > 0 && words.bytes[0] == 's')
        words.bytes[0] = 'S';
    return words.bytes;
}

static void add_panel(struct text_chart *chart, struct panel panel)
{
    const struct drawing *drawing = chart->drawing;

    page_gap(&chart->page);
    if (panel.first > 0 || panel.end < drawing->ncols)
        page_say(&chart->page, 0, panel_words(chart, panel));
    add_rule(chart, panel, true);
    for (int row = drawing->nrows - 1; row >= 0; row--) {
        add_row(chart, panel, row);
        if (row % 10 == 0 && row > 0)
            add_rule(chart, panel, false);
    }
    add_rule(chart, panel, true);
    add_numbers(chart, panel);
}

/* --- the whole ------------------------------------------------------------------------- */

static struct text_chart *begin(struct work *work, const struct plan *plan, const struct plan_band *band,
                           const struct draw_text_style *style, struct text *out)
{
    struct text_chart *chart = arena_alloc(work->arena, 1, sizeof *chart);
    struct words_style *words_style = arena_alloc(work->arena, 1, sizeof *words_style);

    words_style->width = style->width < 80 ? style->width : 80;
    words_style->colour = style->colour;
    chart->drawing = draw_begin(work, plan, band, DRAW_CATCHES, style->wrong_side);
    chart->page = (struct page){work, plan, words_style, out};
    chart->style = style;
    chart->out = out;
    chart->painted = -1;
    chart->number_columns = text_columns(words_format(&chart->page, "%d", band->rows));
    choose_marks(chart);
    for (int yarn = 0; style->colour && !style->true_colour && yarn < plan->piece.nyarns; yarn++)
        chart->ground[yarn] = draw_text_nearest(plan->piece.yarns[yarn].rgb);
    note_behind(chart);
    return chart;
}

void draw_band_text(struct work *work, const struct plan *plan, const struct plan_band *band,
                    const struct draw_text_style *style, struct text *out)
{
    struct text_chart *chart = begin(work, plan, band, style, out);
    const struct page *page = &chart->page;

    page_heading(page, words_format(page, "Band %s, %s side", band->name,
                                    style->wrong_side ? "wrong" : "right"), NULL);
    page_sayf(page, 0, "%s by %s, %s.", words_count(page, band->drawn.ncols, "stitch", "stitches"),
              words_rounds(page, band->rows), draw_times_words(chart->drawing));
    page_say(page, 0, draw_reading_words(chart->drawing));
    for (struct panel panel = next_panel(chart, 0);; panel = next_panel(chart, panel.end)) {
        add_panel(chart, panel);
        if (panel.end >= chart->drawing->ncols)
            break;
    }
    page_gap(page);
    draw_text_legend(chart);
}
