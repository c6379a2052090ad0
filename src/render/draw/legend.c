/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The words of a drawn chart: its head, and below it what every mark is.
 */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "parts.h"
#include "words/say.h"

static const double TITLE_MM = 4.2, WORDS_MM = 2.9, SMALL_MM = 2.6;
static const double LINE_MM = 5.4, CLOSE_MM = 3.9; /* CLOSE: of one entry */
static const double KEY_LEAST_MM = 150.0; /* under a narrow chart it is wider than that */
static const double SAMPLE_MM = DRAW_SAMPLE_MM, SAMPLE_ROOM_MM = DRAW_SAMPLE_ROOM_MM;
static const double COLUMN_GAP_MM = 8.0;
enum { DENTS_LINES = 11 };

static void widen(struct drawing *drawing, double width)
{
    drawing->words_mm = fmax(drawing->words_mm, width);
    drawing->sheet->width_mm = fmax(drawing->sheet->width_mm, width);
}

/* A line of the head or above the legend, over the whole width. */
static void put_line(struct drawing *drawing, double y, double size, bool bold, const char *words)
{
    struct sheet_item *item = sheet_add_words(drawing->sheet, 0, y, size, SHEET_START, words);

    item->bold = bold;
    widen(drawing, sheet_words_width_mm(words, size, bold));
}

/* Words broken into lines that close, the first with its middle at y. Returned: how many. */
static int put_lines(struct drawing *drawing, double x, double y, double size, double room,
                     const char *words)
{
    int lines = 0;

    for (const char *line; (line = sheet_next_line(drawing->work->arena, &words, room / size)); lines++)
        sheet_add_words(drawing->sheet, x, y + lines * CLOSE_MM + 0.36 * size, size, SHEET_START, line);
    return lines;
}

const char *draw_times_words(const struct drawing *drawing)
{
    const struct plan_band *band = drawing->band;
    const struct page *page = &drawing->page;
    const char *across = drawing->plan->round ? "round" : "across";
    const char *up = band->upwards > 1
                         ? words_format(page, ", %s upwards", words_times(page, band->upwards))
                         : "";

    const char *from =
        band->begin > 0 ? words_format(page, ", begun with stitch %d", band->begin + 1) : "";

    return words_format(page, "worked %s %s%s%s", words_times(page, band->repeats), across, up, from);
}

static const char *scale_words(const struct drawing *drawing)
{
    const struct plan_gauge *gauge = &drawing->plan->piece.gauge;
    double scale = drawing->cell_w_mm / gauge->stitch_width_mm;

    if (fabs(scale - 1) < 0.005)
        return "true size";
    return words_format(&drawing->page, "%s times true size",
                        words_decimal(&drawing->page, scale, 2));
}

double draw_head(struct drawing *drawing)
{
    const struct plan_band *band = drawing->band;
    const struct page *page = &drawing->page;
    const struct plan_gauge *gauge = &drawing->plan->piece.gauge;
    /* as the plan has them */
    bool cm = drawing->plan->cm_first;
    double per = cm ? 10 / 2.54 : 1;
    int decimals = cm ? 1 : 2;
    bool titled = drawing->plan->title && *drawing->plan->title;

    put_line(drawing, 4, TITLE_MM, true,
             words_clip(page, titled ? words_format(page, "%s: %s", drawing->plan->title, band->name)
                                     : band->name, 48));
    put_line(drawing, 9, WORDS_MM, false,
             words_format(page, "%s. %s by %s, %s.",
                          drawing->wrong_side ? "Wrong side, as it lies when you look inside"
                          : drawing->show == DRAW_DENTS ? "Where catches fall close together, seen from the right "
                                             "side"
                                              : "Right side",
                          words_count(page, band->drawn.ncols, "stitch", "stitches"),
                          words_rounds(page, band->rows), draw_times_words(drawing)));
    put_line(drawing, 13, SMALL_MM, false,
             words_format(page, "Drawn for %s stitches and %s %s to %s, %s.",
                          words_decimal(page, gauge->per_in * per, decimals),
                          words_decimal(page, gauge->rows_per_in * per, decimals),
                          say_rounds(drawing->plan->round)->many, cm ? "10 cm" : "the inch",
                          scale_words(drawing)));
    return 16;
}

/* --- legend ---------------------------------------------------------------------------- */

bool shelf_entry(struct shelf *shelf, const char *words, double *x, double *y)
{
    struct drawing *drawing = shelf->drawing;
    int place = shelf->place++, lines;

    words = words_untie(&drawing->page, words);
    shelf->widest_mm = fmax(shelf->widest_mm, sheet_words_width_mm(words, WORDS_MM, false));
    if (shelf->columns == 0)
        return false;
    *x = place % shelf->columns * shelf->column_mm;
    *y = shelf->y_mm;
    lines = put_lines(drawing, *x + SAMPLE_ROOM_MM, *y + SAMPLE_MM / 2, WORDS_MM, shelf->room_mm,
                      words);
    /* of several columns no entry is broken: all of a line are as high */
    if ((place + 1) % shelf->columns == 0 || shelf->columns == 1)
        shelf->y_mm += LINE_MM + (lines - 1) * CLOSE_MM;
    return true;
}

static const char *yarn_name(const struct drawing *drawing, int yarn)
{
    return words_clip(&drawing->page, drawing->plan->piece.yarns[yarn].name, 24);
}

static void list_empty(struct shelf *shelf, double aside, double width)
{
    double x, y;

    if (shelf->drawing->seen_empty && shelf_entry(shelf, "no stitch: pass over it", &x, &y))
        draw_empty_sample(shelf->drawing, x + aside, y, width, SAMPLE_MM);
}

static void list_yarns(struct shelf *shelf)
{
    struct drawing *drawing = shelf->drawing;
    double x, y, width = SAMPLE_MM * drawing->cell_w_mm / drawing->cell_h_mm;

    for (int yarn = 0; yarn < drawing->plan->piece.nyarns; yarn++) {
        const struct plan_yarn *of = &drawing->plan->piece.yarns[yarn];
        const char *mark = of->mark && *of->mark ? words_format(&drawing->page, " ( %s )", of->mark) : "";
        const char *words = words_format(&drawing->page, "%s%s", yarn_name(drawing, yarn), mark);

        width = fmin(width, SAMPLE_ROOM_MM - 2);
        if (!drawing->seen[yarn] && !(drawing->wrong_side && of->knitted && of->used))
            continue;
        if (of->over >= 0) {
            if (!drawing->wrong_side &&
                shelf_entry(shelf, words_format(&drawing->page, "%s, sewn on afterwards over %s", words,
                                                yarn_name(drawing, of->over)), &x, &y))
                draw_sewn_sample(drawing, yarn, x, y, width, SAMPLE_MM);
        } else if (drawing->seen[yarn] && shelf_entry(shelf, words, &x, &y)) {
            draw_sample(drawing, yarn, x, y, width, SAMPLE_MM);
        }
    }
    list_empty(shelf, 0, width);
}

/* The yarn most catches of a strand are behind, near enough: that of the first. */
static int yarn_behind(const struct drawing *drawing, int strand)
{
    const struct catch_map *maps[2] = {drawing->band->catches, drawing->band->outer};

    for (int m = 0; m < 2; m++)
        for (int64_t i = 0; maps[m] && i < maps[m]->count; i++)
            if (maps[m]->mark[i].strand == strand)
                return maps[m]->mark[i].behind;
    return GRID_NO_STITCH;
}

static void list_catch(struct shelf *shelf, int strand, enum draw_standing standing, int64_t count,
                       const char *words)
{
    struct drawing *drawing = shelf->drawing;
    double width = fmin(SAMPLE_MM * drawing->cell_w_mm / drawing->cell_h_mm, SAMPLE_ROOM_MM - 2);
    int behind = yarn_behind(drawing, strand);
    double x, y;

    if (count == 0 || behind == GRID_NO_STITCH)
        return;
    words = words_format(&drawing->page, "%s (%s)", words, words_grouped(&drawing->page, count));
    if (!shelf_entry(shelf, words, &x, &y))
        return;
    draw_sample(drawing, behind, x, y, width, SAMPLE_MM);
    draw_catch_sample(drawing, strand, draw_shade(drawing, behind), standing, x + width / 2,
                      y + SAMPLE_MM / 2, SAMPLE_MM);
}

static void list_catches(struct shelf *shelf)
{
    struct drawing *drawing = shelf->drawing;
    const struct page *page = &drawing->page;

    for (int yarn = 0; yarn < drawing->plan->piece.nyarns; yarn++) {
        int64_t edge = drawing->nmarks_edge[yarn], left_out = drawing->nmarks_left_out[yarn];
        const char *name = yarn_name(drawing, yarn);

        list_catch(shelf, yarn, STANDING_ALL, drawing->nmarks[yarn] - edge - left_out,
                   words_format(page, "catch %s behind this stitch", name));
        list_catch(shelf, yarn, STANDING_LEFT_OUT, left_out,
                   words_format(page, "slit: catch %s, but not in the repeat beside the edge", name));
        list_catch(shelf, yarn, STANDING_EDGE, edge,
                   words_format(page, "hollow: catch %s only in the repeat beside the edge", name));
    }
}

static void list_strands(struct shelf *shelf)
{
    struct drawing *drawing = shelf->drawing;
    const struct plan_band *band = drawing->band;
    const struct page *page = &drawing->page;
    double x, y;

    for (int i = 0; i < band->ncolours; i++) {
        int yarn = band->colours[i].yarn;

        if (band->colours[i].tally.floats > 0 &&
            shelf_entry(shelf, words_format(page, "%s lying loose behind", yarn_name(drawing, yarn)),
                        &x, &y))
            draw_strand_sample(drawing, yarn, false, -1, x, y + SAMPLE_MM / 2, SAMPLE_ROOM_MM - 2,
                               SAMPLE_MM);
    }
    for (int i = 0; i < band->ncolours; i++) {
        int yarn = band->colours[i].yarn;
        int behind = drawing->nmarks[yarn] > 0 ? yarn_behind(drawing, yarn) : GRID_NO_STITCH;

        if (behind != GRID_NO_STITCH &&
            shelf_entry(shelf, words_format(page, "%s over %s, too long to leave: caught at the tie",
                                            yarn_name(drawing, yarn),
                                            words_count(page, band->leave_sts, "stitch", "stitches")),
                        &x, &y))
            draw_strand_sample(drawing, yarn, true, behind, x, y + SAMPLE_MM / 2, SAMPLE_ROOM_MM - 2,
                               SAMPLE_MM);
    }
}

static void list_all(struct shelf *shelf)
{
    enum draw_show show = shelf->drawing->show;

    if (show == DRAW_DENTS) {
        draw_dents_list(shelf);
        list_empty(shelf, 4, SAMPLE_MM);
        return;
    }
    list_yarns(shelf);
    if (show == DRAW_CHANGES)
        draw_changes_list(shelf);
    else if (shelf->drawing->wrong_side)
        list_strands(shelf);
    else
        list_catches(shelf);
}

const char *draw_reading_words(const struct drawing *drawing)
{
    if (drawing->show == DRAW_DENTS)
        return draw_dents_words(drawing);
    if (drawing->wrong_side)
        return "Mirrored: the first stitch of the chart is at the left here.";
    if (drawing->plan->round)
        return "Read every round from right to left, from the bottom up.";
    if (drawing->band->upwards > 1 && drawing->band->rows % 2 == 1)
        return "Start each row at its number. Every second time upwards they start at the other end.";
    return "Start each row at its number: right-side rows at the right, wrong-side rows at the left.";
}

const char *draw_edge_words(const struct drawing *drawing, bool in_characters)
{
    bool left_out = false, edge = false;

    if (drawing->show != DRAW_CATCHES)
        return NULL;
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++) {
        left_out |= drawing->nmarks_left_out[yarn] > 0;
        edge |= drawing->nmarks_edge[yarn] > 0;
    }
    if (drawing->wrong_side)
        return !left_out ? NULL
                         : "Beside an edge a strand that crosses into the next repeat has other ties: "
                           "see the right side.";
    if (left_out && in_characters)
        return "Beside an edge no strand comes in from the next repeat: there it has catches of its own.";
    if (left_out)
        return "The fine line beside a mark is on the side of the edge that is meant. No strand comes in "
               "from beyond an edge: there the hollow ones are worked, not those with a slit.";
    return edge && !in_characters
               ? "The fine line beside a hollow mark is on the side of the edge that is meant."
               : NULL;
}

int draw_legend_lines(const struct drawing *drawing)
{
    int lines = 2, each = drawing->band->outer && !drawing->wrong_side ? 4 : 2;

    if (drawing->show == DRAW_DENTS)
        return DENTS_LINES;
    for (int yarn = 0; yarn < drawing->plan->piece.nyarns; yarn++)
        lines += drawing->seen[yarn] ? each : 0;
    return (lines + drawing->seen_empty + 1) / 2 + 1;
}

/* The room a legend has: that of the chart above it, where it is on one page. */
static double key_room_mm(const struct drawing *drawing)
{
    double width = drawing->sheet->width_mm;

    return width > SHEET_LONG_WIDTH_MM ? SHEET_PAGE_WIDTH_MM : fmax(width, KEY_LEAST_MM);
}

/* Returned: where what comes below it begins. */
static double put_reading(struct drawing *drawing, double y, double room, const char *words)
{
    int lines;

    words = words_untie(&drawing->page, words);
    lines = put_lines(drawing, 0, y + 0.44 * WORDS_MM, SMALL_MM, room, words);
    widen(drawing, fmin(room, sheet_words_width_mm(words, SMALL_MM, false)));
    return y + LINE_MM + (lines - 1) * CLOSE_MM;
}

static double draw_legend(struct drawing *drawing, double y_mm)
{
    struct shelf measure = {.drawing = drawing};
    struct shelf shelf = {.drawing = drawing};
    const char *edge_words = draw_edge_words(drawing, false);
    double room = key_room_mm(drawing);

    shelf.y_mm = put_reading(drawing, y_mm, room, draw_reading_words(drawing));
    if (edge_words)
        shelf.y_mm = put_reading(drawing, shelf.y_mm, room, edge_words);
    list_all(&measure);
    shelf.room_mm = fmin(measure.widest_mm, room - SAMPLE_ROOM_MM);
    shelf.column_mm = SAMPLE_ROOM_MM + shelf.room_mm + COLUMN_GAP_MM;
    shelf.columns = (int)fmax(1, floor((room + COLUMN_GAP_MM) / shelf.column_mm));
    shelf.room_mm += 0.01; /* the widest is not to be broken by a rounding */
    list_all(&shelf);
    widen(drawing, shelf.column_mm * fmin(shelf.columns, measure.place) - COLUMN_GAP_MM);
    return shelf.y_mm + (measure.place % shelf.columns > 0 ? LINE_MM : 0) + 1;
}

struct sheet_chart draw_sheet_chart(const struct drawing *drawing, double right_mm, double below_mm,
                                    double key_width_mm)
{
    return (struct sheet_chart){.x_mm = drawing->x_mm,
                                .y_mm = drawing->y_mm,
                                .ncols = drawing->ncols,
                                .nrows = drawing->nrows,
                                .cell_width_mm = drawing->cell_w_mm,
                                .cell_height_mm = drawing->cell_h_mm,
                                .right_mm = right_mm,
                                .below_mm = below_mm,
                                .key_width_mm = key_width_mm};
}

void draw_key(struct drawing *drawing, double right_mm, double below_mm)
{
    struct sheet *sheet = drawing->sheet;
    double below = drawing->y_mm + drawing->nrows * drawing->cell_h_mm + below_mm;

    sheet->height_mm = draw_legend(drawing, below);
    sheet->chart = draw_sheet_chart(drawing, right_mm, below_mm, drawing->words_mm);
}
