/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The chart from the wrong side: strands as they lie behind, at their true span. A strand too
 * long to be left loose is heavier and dashed; a catch is a tie across it, in the yarn of the
 * stitch that holds it.
 */
#include <math.h>

#include "draw_parts.h"
#include "plan/strands.h"

static const double GROUND_PART = 0.45;     /* of a stitch's shade: the strands stand out from it */
static const double STRAND_WIDE = 0.13, STRAND_CASING = 0.23; /* parts of a row's height */
static const double LONG_WIDE = 0.22, LONG_CASING = 0.36;
static const double DASH = 0.45, DASH_SHORT = 0.2;
static const double LEVELS = 0.2;           /* between two strands of a row */
static const double CROWDED_WIDE = 0.7, CROWDED_LEVELS = 1.3; /* of these, with three yarns or more */
static const double RISE = 0.75;            /* stitches it takes a strand to come to lie level */
static const double TIE_HALF = 0.36, TIE_WIDE = 0.17, TIE_CASING = 0.33, TIE_LEAN = 0.1;

/* Above or below the middle of the row, so that strands of one row do not hide each other. */
static double level_mm(const struct drawing *drawing, int yarn, double height)
{
    const struct plan_band *band = drawing->band;
    int place = 0;

    for (int i = 0; i < band->ncolours; i++)
        if (band->colours[i].yarn == yarn)
            place = i;
    if (band->ncolours > 2)
        height *= CROWDED_LEVELS * 2 / (band->ncolours - 1); /* all within the row */
    return (place - (band->ncolours - 1) / 2.0) * LEVELS * height;
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
    /* in grey a textured yarn looks like another: it has shorter dashes */
    path->dash_mm = !over_limit ? 0 : height * (drawing->texture[yarn] == TEXTURE_NONE ? DASH : DASH_SHORT);
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

static void add_tie(struct sheet *sheet, struct sheet_item *path, double x, double y, double height)
{
    sheet_move(sheet, path, x - TIE_LEAN * height, y + TIE_HALF * height);
    sheet_line(sheet, path, x + TIE_LEAN * height, y - TIE_HALF * height);
}

static void add_ties(struct drawing *drawing, struct sheet_item **path)
{
    int64_t count;
    const struct draw_catch *caught = draw_catches(drawing, &count);

    for (int64_t i = 0; i < count; i++) {
        uint8_t behind = draw_cell(drawing, caught[i].row, caught[i].column, true);

        if (behind == GRID_NO_STITCH)
            continue;
        if (!path[behind])
            path[behind] = tie_path(drawing, behind, drawing->cell_h_mm);
        add_tie(drawing->sheet, path[behind], draw_middle_x(drawing, caught[i].column),
                draw_middle_y(drawing, caught[i].row) +
                    level_mm(drawing, caught[i].strand, drawing->cell_h_mm),
                drawing->cell_h_mm);
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
        add_tie(drawing->sheet, tie_path(drawing, tie_yarn, height_mm), x_mm + width_mm / 2, y_mm,
                height_mm);
}
