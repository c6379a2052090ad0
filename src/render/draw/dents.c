/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where catches crowd. The stitches are pale, what is crowded is grey in three steps, those of the
 * plan or, in a band that goes beyond them, spread over what it has; a ring goes round the most
 * crowded place. A catch is a dot, two that stand together are joined, the thicker the worse. Bars
 * below and at the left count the catches of every column and row. All of it is black, grey and white.
 */
#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "dents_parts.h"

static const struct sheet_shade INK = {0, 0, 0}, PAPER = {255, 255, 255}, BAR_INK = {150, 150, 150};
static const double PALE = 0.10;                        /* of its shade is left to a stitch */
static const unsigned char STEP_GREY[3] = {218, 184, 150};
static const double CLOSEST_MM = 0.45, CLOSEST_CASING_MM = 1.2, CLOSEST_DASH_MM = 1.1;
/* Parts of a stitch's smaller side. */
static const double DOT = 0.44, DOT_EDGE = 0.58, HOLLOW = 0.30, RING = 0.92, RING_INSIDE = 0.70;
static const double THICK = 0.44, THIN = 0.10, DASH = 0.16, CASING = 0.16;
static const double LINE_MM = 5.6;    /* below the stitches, without bars */
static const double NUMBERS_MM = 5.2; /* between the stitches and the bars below */
static const double BARS_MM = 12.0, UNIT_LARGEST_MM = 2.2, BAR_NUMBER_MM = 1.9;
static const double SMALLEST_NUMBERED_MM = 2.6; /* narrower, and only the longest is numbered */

/* --- crowding ------------------------------------------------------------------------------ */

/* Catches from which a stitch has that grey. What is notable is for the plan to say; were all that
 * is beyond it one grey, a crowded band would be grey all over. */
int64_t dents_shown_step(const struct plan_crowding *crowding, int step)
{
    int64_t counts = crowding->most - crowding->step[0] + 1;

    if (crowding->most <= crowding->step[2])
        return crowding->step[step];
    return crowding->step[0] + (counts * step + 2) / 3;
}

static int crowding_step(const struct drawing *drawing, int row, int column)
{
    const struct dents *dents = drawing->dents;
    const struct plan_crowding *crowding = &drawing->band->crowding;
    int64_t count = dents->crowd[(size_t)row * (size_t)dents->ncols + (size_t)column];
    int step = -1;

    for (int s = 0; s < 3; s++)
        if (count >= dents_shown_step(crowding, s))
            step = s;
    return step;
}

struct sheet_shade dents_crowded_shade(int step)
{
    return (struct sheet_shade){STEP_GREY[step], STEP_GREY[step], STEP_GREY[step]};
}

static struct sheet_item *crowded_cells(struct drawing *drawing, int step)
{
    static const char *const labels[3] = {"somewhat crowded", "more crowded", "most crowded"};
    struct sheet_item *cells = sheet_add_cells(drawing->sheet, drawing->x_mm, drawing->y_mm,
                                               drawing->cell_w_mm, drawing->cell_h_mm,
                                               dents_crowded_shade(step));

    cells->label = labels[step];
    return cells;
}

/* Grey alone, whatever the yarn: mixed with shades the steps could not be told apart. */
static void draw_crowding(struct drawing *drawing)
{
    struct sheet_item *cells[3] = {NULL};

    for (int row = 0; row < drawing->nrows; row++)
        for (int column = 0, run; column < drawing->ncols; column += run) {
            int step = crowding_step(drawing, row, column);

            for (run = 1; column + run < drawing->ncols &&
                          crowding_step(drawing, row, column + run) == step;)
                run++;
            if (step < 0)
                continue;
            if (!cells[step])
                cells[step] = crowded_cells(drawing, step);
            sheet_run(drawing->sheet, cells[step], drawing->ncols - column - run,
                      drawing->nrows - 1 - row, run);
        }
}

struct sheet_item *dents_closest_path(struct sheet *sheet)
{
    struct sheet_item *path = sheet_add_path(sheet, INK, CLOSEST_MM);

    path->casing = PAPER;
    path->casing_mm = CLOSEST_CASING_MM;
    path->dash_mm = CLOSEST_DASH_MM;
    path->label = "closest together";
    return path;
}

/* A ring in arcs near enough to round. */
void dents_add_ring(struct sheet *sheet, struct sheet_item *path, double x, double y, double radius)
{
    enum { ARCS = 12 };
    const double half = acos(-1) / ARCS;

    sheet_move(sheet, path, x + radius, y);
    for (int i = 1; i <= ARCS; i++)
        sheet_curve(sheet, path, x + radius / cos(half) * cos((2 * i - 1) * half),
                    y + radius / cos(half) * sin((2 * i - 1) * half),
                    x + radius * cos(2 * i * half), y + radius * sin(2 * i * half));
}

bool dents_has_closest(const struct drawing *drawing)
{
    const struct plan_crowding *crowding = &drawing->band->crowding;

    return crowding->row >= 0 && crowding->most >= crowding->step[0];
}

static void draw_closest(struct drawing *drawing)
{
    const struct plan_crowding *crowding = &drawing->band->crowding;
    /* as far in rows as in stitches: they are drawn in the shape of the gauge */
    double radius = crowding->within_in * drawing->plan->piece.gauge.per_in * drawing->cell_w_mm;

    if (dents_has_closest(drawing))
        dents_add_ring(drawing->sheet, dents_closest_path(drawing->sheet),
                 draw_middle_x(drawing, crowding->column), draw_middle_y(drawing, crowding->row),
                 radius);
}

/* --- marks --------------------------------------------------------------------------------- */

static const char *kind_label(enum dent_kind kind)
{
    static const char *const labels[DENT_KINDS] = {"one on the other", "two behind one stitch",
                                                   "one column apart", "two columns apart"};

    return labels[kind];
}

struct sheet_item *dents_kind_path(struct sheet *sheet, enum dent_kind kind, double size)
{
    double wide = kind == DENT_STACKED ? THICK : THIN;
    struct sheet_item *path = sheet_add_path(sheet, INK, wide * size);

    if (kind == DENT_DOUBLED) { /* a ring: a white disc on a larger black one */
        path->stroke = PAPER;
        path->stroke_mm = RING_INSIDE * size;
        path->casing = INK;
        path->casing_mm = RING * size;
    } else if (kind == DENT_NEAR) { /* the least of them: not to hide the others */
        path->dash_mm = DASH * size;
    } else {
        path->casing = PAPER;
        path->casing_mm = path->stroke_mm + CASING * size;
    }
    return path;
}

struct sheet_item *dents_dot_path(struct sheet *sheet, bool edge, double size)
{
    struct sheet_item *path =
        sheet_add_path(sheet, edge ? PAPER : INK, (edge ? HOLLOW : DOT) * size);

    path->casing = INK; /* a black dot needs none: a bar that ends in it is to run into it */
    path->casing_mm = edge ? DOT_EDGE * size : 0;
    return path;
}

void dents_add_dot(struct sheet *sheet, struct sheet_item *path, double x, double y)
{
    sheet_move(sheet, path, x, y);
    sheet_line(sheet, path, x + 0.01, y);
}

void dents_add_line(struct sheet *sheet, struct sheet_item *path, double x1, double y1, double x2,
                     double y2)
{
    sheet_move(sheet, path, x1, y1);
    sheet_line(sheet, path, x2, y2);
}

/* Where the other catch is not beside this one on the sheet, both ends go half the way. */
static void add_pair(struct drawing *drawing, struct sheet_item *path, const struct dent_pair *pair)
{
    double x = draw_middle_x(drawing, pair->column), y = draw_middle_y(drawing, pair->row);
    double to_x = draw_middle_x(drawing, pair->to_column);
    double to_y = draw_middle_y(drawing, pair->to_row);
    double across = -pair->step * drawing->cell_w_mm, up = -drawing->cell_h_mm;

    if (pair->kind == DENT_DOUBLED)
        dents_add_dot(drawing->sheet, path, x, y);
    else if (pair->over_join || pair->over_top) {
        dents_add_line(drawing->sheet, path, x, y, x + across / 2, y + up / 2);
        dents_add_line(drawing->sheet, path, to_x, to_y, to_x - across / 2, to_y - up / 2);
    } else
        dents_add_line(drawing->sheet, path, x, y, to_x, to_y);
}

static double mark_size(const struct drawing *drawing)
{
    return fmin(drawing->cell_w_mm, drawing->cell_h_mm);
}

/* The worst kind last, so that it lies on top; rings lie under dots, bars under rings. */
static void draw_pairs(struct drawing *drawing)
{
    static const enum dent_kind order[DENT_KINDS] = {DENT_NEAR, DENT_TOUCHING, DENT_STACKED,
                                                     DENT_DOUBLED};
    const struct dents *dents = drawing->dents;

    for (int k = 0; k < DENT_KINDS; k++) {
        struct sheet_item *path;

        if (dents->once[order[k]] == 0)
            continue;
        path = dents_kind_path(drawing->sheet, order[k], mark_size(drawing));
        path->label = kind_label(order[k]);
        for (int i = 0; i < dents->npairs; i++)
            if (dents->pair[i].kind == order[k])
                add_pair(drawing, path, &dents->pair[i]);
    }
}

static void draw_dots(struct drawing *drawing)
{
    struct sheet_item *path[2] = {NULL, NULL};

    for (int i = 0; i < drawing->dents->nmarks; i++) {
        const struct dent_mark *mark = &drawing->dents->mark[i];

        if (!path[mark->edge]) {
            path[mark->edge] = dents_dot_path(drawing->sheet, mark->edge, mark_size(drawing));
            path[mark->edge]->label = mark->edge ? "catches near an edge" : "catches";
        }
        dents_add_dot(drawing->sheet, path[mark->edge], draw_middle_x(drawing, mark->column),
                draw_middle_y(drawing, mark->row));
    }
}

/* --- bars ---------------------------------------------------------------------------------- */

static double unit_mm(int64_t most)
{
    return fmin(UNIT_LARGEST_MM, BARS_MM / (double)(most > 0 ? most : 1));
}

struct sheet_item *dents_bars_path(struct sheet *sheet, struct sheet_shade shade,
                                    const char *label)
{
    struct sheet_item *path = sheet_add_path(sheet, shade, 0);

    path->filled = true;
    path->fill = shade;
    path->label = label;
    return path;
}

static double bars_top(const struct drawing *drawing)
{
    return drawing->y_mm + drawing->nrows * drawing->cell_h_mm + NUMBERS_MM;
}

static bool is_ridge(const struct dents *dents, int column)
{
    return dents->in_column[column] >= dents->ridge_from;
}

static void put_bar_number(struct drawing *drawing, double x, double y, enum sheet_anchor anchor,
                           int64_t number, bool bold)
{
    struct sheet_item *words = sheet_add_words(drawing->sheet, x, y, BAR_NUMBER_MM, anchor,
                                               words_grouped(&drawing->page, number));

    words->bold = bold;
}

static void draw_column_bars(struct drawing *drawing)
{
    const struct dents *dents = drawing->dents;
    struct sheet_item *plain = dents_bars_path(drawing->sheet, BAR_INK, "catches of a column");
    struct sheet_item *ridge =
        dents_bars_path(drawing->sheet, INK, "columns that may show as a ridge");
    double unit = unit_mm(dents->most_in_column), top = bars_top(drawing);
    bool numbered = drawing->cell_w_mm >= SMALLEST_NUMBERED_MM;
    bool told = false;

    for (int column = 0; column < dents->ncols; column++) {
        int64_t count = dents->in_column[column];
        double width = 0.7 * drawing->cell_w_mm, height = (double)count * unit;

        if (count == 0)
            continue;
        sheet_box(drawing->sheet, is_ridge(dents, column) ? ridge : plain,
                  draw_middle_x(drawing, column) - width / 2, top, width, height);
        if (numbered || (!told && count == dents->most_in_column)) {
            put_bar_number(drawing, draw_middle_x(drawing, column), top + height + 2.0,
                           SHEET_MIDDLE, count, is_ridge(dents, column));
            told = true;
        }
    }
}

static void draw_row_bars(struct drawing *drawing)
{
    const struct dents *dents = drawing->dents;
    struct sheet_item *plain = dents_bars_path(drawing->sheet, BAR_INK, "catches of a row");
    double unit = unit_mm(dents->most_in_row);
    double right = drawing->x_mm - draw_number_room_mm(drawing);
    bool numbered = drawing->cell_h_mm >= SMALLEST_NUMBERED_MM;
    bool told = false;

    for (int row = 0; row < dents->nrows; row++) {
        int64_t count = dents->in_row[row];
        double height = 0.7 * drawing->cell_h_mm, width = (double)count * unit;

        if (count == 0)
            continue;
        sheet_box(drawing->sheet, plain, right - width, draw_middle_y(drawing, row) - height / 2,
                  width, height);
        if (numbered || (!told && count == dents->most_in_row)) {
            put_bar_number(drawing, right - width - 0.6, draw_middle_y(drawing, row) + 0.7,
                           SHEET_END, count, false);
            told = true;
        }
    }
}

/* --- the sheet ----------------------------------------------------------------------------- */

static struct sheet *draw_once(struct work *work, const struct plan *plan,
                               const struct plan_band *band, const struct draw_style *style)
{
    const struct dents *dents = plan_dents_read(work, plan, band);
    struct drawing *drawing = draw_begin(work, plan, band, dents, false);
    struct sheet *sheet = draw_open_sheet(drawing, style);
    double below = LINE_MM;

    drawing->x_mm = draw_number_room_mm(drawing) + (dents->nmarks > 0 ? DRAW_BARS_ASIDE_MM : 0);
    sheet->width_mm =
        drawing->x_mm + drawing->ncols * drawing->cell_w_mm + draw_number_room_mm(drawing);
    drawing->y_mm = draw_head(drawing);
    draw_cells(drawing, PALE);
    draw_crowding(drawing);
    draw_lines(drawing);
    draw_outline(drawing);
    draw_closest(drawing);
    draw_pairs(drawing);
    draw_dots(drawing);
    draw_numbers(drawing);
    if (dents->nmarks > 0) {
        draw_column_bars(drawing);
        draw_row_bars(drawing);
        below += NUMBERS_MM + (double)dents->most_in_column * unit_mm(dents->most_in_column);
    }
    draw_key(drawing, draw_number_room_mm(drawing), below);
    return sheet;
}

struct sheet *draw_dents(struct work *work, const struct plan *plan, const struct plan_band *band,
                         const struct draw_style *style)
{
    return draw_to_fit(work, plan, band, style, true, draw_once);
}
