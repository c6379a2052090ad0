/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The chart from the wrong side: strands as they lie behind, at their true span. A strand too
 * long to be left loose is heavier and dashed, each yarn in its own way, so that they are told apart
 * in grey; a catch is a tie that ends on it, in the yarn of the stitch that holds it.
 */
#include <math.h>

#include "parts.h"

static const double GROUND_PART = 0.45;     /* of a stitch's shade: the strands stand out from it */
static const double STRAND_WIDE = 0.13, STRAND_CASING = 0.23; /* parts of a row's height */
static const double LONG_WIDE = 0.22, LONG_CASING = 0.36;
/* Long, short, dotted, very long, by rank: dash and gap, parts of a row's height. */
enum { DASHES = 4 };
static const double DASH[DASHES][2] = {{0.8, 0.2}, {0.3, 0.3}, {0.11, 0.22}, {1.7, 0.25}};
static const double LEVELS = 0.2;           /* between two strands of a row */
static const double CROWDED_WIDE = 0.7, CROWDED_LEVELS = 1.3; /* of these, with three yarns or more */
static const double RISE = 0.75;            /* stitches it takes a strand to come to lie level */
static const double TIE_WIDE = 0.15, TIE_CASING = 0.29, TIE_LEAN = 0.28;
static const double TIE_TO = 0.42;   /* of a row, from its middle: there a tie begins */
static const double TIE_OVER = 0.05; /* and it ends so far beyond its strand */

/* Parts of a row's height. */
static double level_step(const struct plan_band *band)
{
    double crowded = band->ncolours > 2 ? CROWDED_LEVELS * 2 / (band->ncolours - 1) : 1;

    return LEVELS * crowded; /* all within the row */
}

/* Above or below the middle of the row, so that strands of one row do not hide each other. */
static double level_mm(const struct drawing *drawing, int yarn, double height)
{
    const struct plan_band *band = drawing->band;
    int place = 0;

    for (int i = 0; i < band->ncolours; i++)
        if (band->colours[i].yarn == yarn)
            place = i;
    return (place - (band->ncolours - 1) / 2.0) * level_step(band) * height;
}

static struct sheet_item *strand_path(struct drawing *drawing, int yarn, bool over_limit,
                                      double height)
{
    struct sheet_shade shade = draw_shade(drawing, yarn);
    struct sheet_item *path;

    height *= drawing->band->ncolours > 2 ? CROWDED_WIDE : 1;
    path = sheet_add_path(drawing->sheet, shade, (over_limit ? LONG_WIDE : STRAND_WIDE) * height);

    path->casing = draw_against(shade);
    path->casing_mm = (over_limit ? LONG_CASING : STRAND_CASING) * height;
    if (over_limit) {
        path->dash_mm = DASH[drawing->rank[yarn] % DASHES][0] * height;
        path->gap_mm = DASH[drawing->rank[yarn] % DASHES][1] * height;
    }
    path->label = words_format(&drawing->page, over_limit ? "long strands of %s" : "strands of %s",
                               drawing->plan->piece.yarns[yarn].name);
    return path;
}

/* From x to x2, at rest at y + level; an end that is not open rises out of its stitch. */
static void add_strand(struct sheet *sheet, struct sheet_item *path, double x, bool open, double x2,
                       bool open2, double y, double level, double rise)
{
    rise = fmin(rise, fabs(x2 - x) / (open == open2 ? 2 : 1));
    if (open) {
        sheet_move(sheet, path, x, y + level);
    } else {
        sheet_move(sheet, path, x, y);
        sheet_curve(sheet, path, x + rise / 2, y + level, x + rise, y + level);
    }
    if (open2) {
        sheet_line(sheet, path, x2, y + level);
    } else {
        sheet_line(sheet, path, x2 - rise, y + level);
        sheet_curve(sheet, path, x2 - rise / 2, y + level, x2, y);
    }
}

/* Where a strand ends; an open end so far inside that its rounding is not seen beyond the line. */
static double end_x(const struct drawing *drawing, int column, bool open, bool to_left, bool over_limit)
{
    double inside = (over_limit ? LONG_CASING : STRAND_CASING) / 2 * drawing->cell_h_mm;

    if (!open)
        return draw_middle_x(drawing, column);
    /* a column's right edge: at its left as seen from the wrong side */
    return draw_column_x(drawing, column) + (to_left ? inside : -inside);
}

static void add_strands(struct drawing *drawing, bool over_limit)
{
    struct sheet_item *path[GRID_YARNS_MAX] = {NULL};

    for (int row = 0; row < drawing->nrows; row++) {
        int count;
        const struct strand *strands =
            plan_row_strands(drawing->work, drawing->plan, drawing->band, row, &count);

        for (int i = 0; i < count; i++) {
            const struct strand *strand = &strands[i];

            if (strand->over_limit != over_limit)
                continue;
            if (!path[strand->yarn])
                path[strand->yarn] = strand_path(drawing, strand->yarn, over_limit, drawing->cell_h_mm);
            add_strand(drawing->sheet, path[strand->yarn],
                       end_x(drawing, strand->from, strand->from_open, true, over_limit),
                       strand->from_open,
                       end_x(drawing, strand->to, strand->to_open, false, over_limit),
                       strand->to_open, draw_middle_y(drawing, row),
                       level_mm(drawing, strand->yarn, drawing->cell_h_mm),
                       RISE * drawing->cell_w_mm);
        }
    }
}

static struct sheet_item *tie_path(struct drawing *drawing, int behind, double height)
{
    struct sheet_shade shade = draw_shade(drawing, behind);
    struct sheet_item *path = sheet_add_path(drawing->sheet, shade, TIE_WIDE * height);

    path->casing = draw_against(shade);
    path->casing_mm = TIE_CASING * height;
    path->label = words_format(&drawing->page, "ties in %s", drawing->plan->piece.yarns[behind].name);
    return path;
}

/* From the edge of the row that is nearer to its strand, so that it crosses no other; from between
 * two strands where its own is the middle one of three. level: of the strand, parts of the height.
 */
static void add_tie(struct sheet *sheet, struct sheet_item *path, double x, double y, double level,
                    double step, double height)
{
    bool outermost = fabs(level) + step > TIE_TO;
    double out = level > 0 ? 1 : -1;
    double begin = outermost || fabs(level) > 0.01 ? TIE_TO * out : level - 0.75 * step;
    double end = level - TIE_OVER * out;
    double lean = TIE_LEAN * fabs(begin - end) / 2;

    sheet_move(sheet, path, x - lean * height * out, y + begin * height);
    sheet_line(sheet, path, x + lean * height * out, y + end * height);
}

static void add_ties(struct drawing *drawing, struct sheet_item **path)
{
    int64_t count;
    const struct drawn_catch *caught = draw_catches(drawing, &count);

    for (int64_t i = 0; i < count; i++) {
        uint8_t behind = plan_drawn_cell(drawing->band, caught[i].row, caught[i].column, true);

        if (behind == GRID_NO_STITCH)
            continue;
        if (!path[behind])
            path[behind] = tie_path(drawing, behind, drawing->cell_h_mm);
        add_tie(drawing->sheet, path[behind], draw_middle_x(drawing, caught[i].column),
                draw_middle_y(drawing, caught[i].row), level_mm(drawing, caught[i].strand, 1),
                level_step(drawing->band), drawing->cell_h_mm);
    }
}

void draw_wrong_side(struct drawing *drawing)
{
    struct sheet_item *ties[GRID_YARNS_MAX] = {NULL};

    draw_cells(drawing, GROUND_PART);
    draw_lines(drawing);
    add_strands(drawing, false);
    add_strands(drawing, true);
    draw_outline(drawing); /* over open ends, under the ties of the topmost row */
    add_ties(drawing, ties);
}

void draw_strand_sample(struct drawing *drawing, int strand, bool over_limit, int tie_yarn,
                        double x_mm, double y_mm, double width_mm, double height_mm)
{
    add_strand(drawing->sheet, strand_path(drawing, strand, over_limit, height_mm), x_mm, true,
               x_mm + width_mm, true, y_mm, 0, 0);
    if (tie_yarn >= 0)
        add_tie(drawing->sheet, tie_path(drawing, tie_yarn, height_mm), x_mm + width_mm / 2, y_mm, 0,
                TIE_TO + TIE_OVER, height_mm);
}
