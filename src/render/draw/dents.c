/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A chart as a map of where catches crowd. Its stitches are pale, what is crowded is grey in three
 * steps; a ring goes round the most crowded place. A catch is a dot, two that stand together are
 * joined, the thicker the worse. Bars below and at the left count the catches of every column and
 * row. All of it is black, grey and white.
 */
#include <math.h>

#include "parts.h"

static const struct sheet_shade INK = {0, 0, 0}, PAPER = {255, 255, 255}, BAR_INK = {150, 150, 150};
static const unsigned char STEP_GREY[3] = {218, 184, 150};
static const double CLOSEST_MM = 0.45, CLOSEST_CASING_MM = 1.2, CLOSEST_DASH_MM = 1.1;
/* Parts of a stitch's smaller side. */
static const double DOT = 0.44, DOT_EDGE = 0.58, HOLLOW = 0.30, RING = 0.92, RING_INSIDE = 0.70;
static const double DASH = 0.16, CASING = 0.16;
static const double NUMBERS_MM = 5.2; /* between the stitches and the bars below */
static const double BARS_MM = 12.0, UNIT_LARGEST_MM = 2.2, BAR_NUMBER_MM = 1.9;
static const double SMALLEST_NUMBERED_MM = 2.6; /* narrower, and only the longest is numbered */
static const double MIDDLE_MM = DRAW_SAMPLE_ROOM_MM / 2 - 1; /* of a sample of the legend */

/* What joins two catches, and what is said of it. */
static const struct joined {
    const char *label;
    double wide; /* part of a stitch's smaller side */
    const char *what, *advice, *no_room;
} joined_of[DENT_KINDS] = {
    [DENT_STACKED] = {"one on the other", 0.44, "one stands on the other",
                      "the fabric may dent here. Catch one of them elsewhere, or change the chart",
                      "the fabric may dent here. No room to stagger: catch them loosely, or change the "
                      "chart"},
    [DENT_DOUBLED] = {"two behind one stitch", 0, "two strands behind one stitch",
                      "a lump. Catch one of them a stitch further",
                      "a lump. No room to part them: catch them loosely, or change the chart"},
    [DENT_TOUCHING] = {"one column apart", 0.10, "one column apart in the next ",
                       "shows a little. Catch them loosely", "shows a little. Catch them loosely"},
    [DENT_NEAR] = {"two columns apart", 0.10, "two columns apart in the next ",
                   "nearer than the stagger you asked for", "nearer than the stagger you asked for"},
};

static const struct plan_dents *dents_of(const struct drawing *drawing)
{
    return &drawing->band->dents;
}

static struct sheet_item *add_path(struct drawing *drawing, struct sheet_shade shade, double mm,
                                   struct sheet_shade casing, double casing_mm, const char *label)
{
    struct sheet_item *path = sheet_add_path(drawing->sheet, shade, mm);

    path->casing = casing;
    path->casing_mm = casing_mm;
    path->label = label;
    return path;
}

static struct sheet_item *box_path(struct drawing *drawing, struct sheet_shade shade,
                                   const char *label)
{
    struct sheet_item *path = add_path(drawing, shade, 0, PAPER, 0, label);

    path->filled = true;
    path->fill = shade;
    return path;
}

/* --- crowding ------------------------------------------------------------------------------ */

int draw_crowded_step(const struct drawing *drawing, int row, int column)
{
    const struct plan_dents *dents = dents_of(drawing);
    int64_t count = dents->crowd[(size_t)row * (size_t)dents->ncols + (size_t)column];
    int step = DRAW_CROWDED_STEPS - 1;

    while (step >= 0 && count < dents->shown[step])
        step--;
    return step;
}

/* Grey alone, whatever the yarn: mixed with shades the steps could not be told apart. */
struct sheet_shade draw_crowded_shade(int step)
{
    return (struct sheet_shade){STEP_GREY[step], STEP_GREY[step], STEP_GREY[step]};
}

/* Is anything crowded, and a place to be ringed as the most crowded? */
static bool is_crowded(const struct drawing *drawing)
{
    return dents_of(drawing)->most >= dents_of(drawing)->step[0];
}

/* In arcs near enough to round. */
static void add_ring(struct drawing *drawing, double x, double y, double radius)
{
    enum { ARCS = 12 };
    const double half = acos(-1) / ARCS;
    struct sheet_item *path =
        add_path(drawing, INK, CLOSEST_MM, PAPER, CLOSEST_CASING_MM, "closest together");

    path->dash_mm = CLOSEST_DASH_MM;
    sheet_move(drawing->sheet, path, x + radius, y);
    for (int i = 1; i <= ARCS; i++)
        sheet_curve(drawing->sheet, path, x + radius / cos(half) * cos((2 * i - 1) * half),
                    y + radius / cos(half) * sin((2 * i - 1) * half),
                    x + radius * cos(2 * i * half), y + radius * sin(2 * i * half));
}

/* --- marks --------------------------------------------------------------------------------- */

static struct sheet_item *joined_path(struct drawing *drawing, enum dent_kind kind, double size)
{
    const struct joined *joined = &joined_of[kind];
    struct sheet_item *path;

    if (kind == DENT_DOUBLED) /* a ring: a white disc on a larger black one */
        return add_path(drawing, PAPER, RING_INSIDE * size, INK, RING * size, joined->label);
    if (kind != DENT_NEAR)
        return add_path(drawing, INK, joined->wide * size, PAPER, (joined->wide + CASING) * size,
                        joined->label);
    path = add_path(drawing, INK, joined->wide * size, PAPER, 0, joined->label);
    path->dash_mm = DASH * size; /* the least of them: not to hide the others */
    return path;
}

/* Hollow at an edge. A black one has no casing: a bar that ends in it is to run into it. */
static struct sheet_item *dot_path(struct drawing *drawing, bool edge, double size)
{
    return add_path(drawing, edge ? PAPER : INK, (edge ? HOLLOW : DOT) * size, INK,
                    edge ? DOT_EDGE * size : 0, edge ? "catches near an edge" : "catches");
}

static void add_line(struct drawing *drawing, struct sheet_item *path, double x, double y, double x2,
                     double y2)
{
    sheet_move(drawing->sheet, path, x, y);
    sheet_line(drawing->sheet, path, x2, y2);
}

static void add_dot(struct drawing *drawing, struct sheet_item *path, double x, double y)
{
    add_line(drawing, path, x, y, x + 0.01, y);
}

/* Where the other catch is not beside this one on the sheet, both ends go half the way. */
static void add_pair(struct drawing *drawing, struct sheet_item *path, int row, int column, int step,
                     bool over_join)
{
    int right = drawing->right_cols, repeat = drawing->band->drawn.ncols;
    bool top = row == drawing->nrows - 1;
    int to = over_join ? right + (column - right + step + repeat) % repeat : column + step;
    double x = draw_middle_x(drawing, column), y = draw_middle_y(drawing, row);
    double to_x = draw_middle_x(drawing, to), to_y = draw_middle_y(drawing, top ? 0 : row + 1);
    double half_across = -step * drawing->cell_w_mm / 2, half_up = -drawing->cell_h_mm / 2;

    if (over_join || top) {
        add_line(drawing, path, x, y, x + half_across, y + half_up);
        add_line(drawing, path, to_x, to_y, to_x - half_across, to_y - half_up);
    } else {
        add_line(drawing, path, x, y, to_x, to_y);
    }
}

static void add_pairs_above(struct drawing *drawing, struct sheet_item *path, int row, int column,
                            int step)
{
    uint16_t joined = dents_of(drawing)->joined[(size_t)row * (size_t)drawing->ncols + (size_t)column];

    for (int over_join = 0; over_join < 2; over_join++)
        if (joined & dents_joined_above(step, over_join))
            add_pair(drawing, path, row, column, step, over_join);
}

static void add_pairs(struct drawing *drawing, struct sheet_item *path, enum dent_kind kind, int row,
                      int column)
{
    uint16_t joined = dents_of(drawing)->joined[(size_t)row * (size_t)drawing->ncols + (size_t)column];
    int across = kind == DENT_STACKED ? 0 : kind == DENT_TOUCHING ? 1 : 2;

    if (kind != DENT_DOUBLED) {
        add_pairs_above(drawing, path, row, column, -across);
        if (across > 0)
            add_pairs_above(drawing, path, row, column, across);
    } else if (joined & DENTS_JOINED_HERE) {
        add_dot(drawing, path, draw_middle_x(drawing, column), draw_middle_y(drawing, row));
    }
}

/* The worst kind last, so that it lies on top; rings lie under dots, bars under rings. */
static void draw_pairs(struct drawing *drawing)
{
    static const enum dent_kind order[DENT_KINDS] = {DENT_NEAR, DENT_TOUCHING, DENT_STACKED,
                                                     DENT_DOUBLED};

    for (int k = 0; k < DENT_KINDS; k++) {
        struct sheet_item *path = joined_path(drawing, order[k], draw_mark_size_mm(drawing));

        for (int row = 0; row < drawing->nrows; row++)
            for (int column = 0; column < drawing->ncols; column++)
                add_pairs(drawing, path, order[k], row, column);
    }
}

/* One for each stitch, hollow where all its catches are beside an edge. */
static void draw_dots(struct drawing *drawing)
{
    int64_t count;
    const struct drawn_catch *caught = draw_catches(drawing, &count);
    struct sheet_item *path[2] = {dot_path(drawing, false, draw_mark_size_mm(drawing)),
                                  dot_path(drawing, true, draw_mark_size_mm(drawing))};

    for (int64_t i = 0, of; i < count; i += of) {
        bool edge = true;

        of = caught[i].of;
        for (int64_t k = i; k < i + of; k++)
            edge = edge && caught[k].edge;
        drawing->seen_dot[edge] = true;
        add_dot(drawing, path[edge], draw_middle_x(drawing, caught[i].column),
                draw_middle_y(drawing, caught[i].row));
    }
}

/* --- bars ---------------------------------------------------------------------------------- */

static double unit_mm(int64_t most)
{
    return fmin(UNIT_LARGEST_MM, BARS_MM / (double)(most > 0 ? most : 1));
}

/* A bar a column downwards from `from`, or a row to the left of it, and how many that are. */
static void draw_bars(struct drawing *drawing, bool rows, double from, const int64_t *count, int n,
                      int64_t most)
{
    const struct plan_dents *dents = dents_of(drawing);
    double cell = rows ? drawing->cell_h_mm : drawing->cell_w_mm, wide = 0.7 * cell;
    struct sheet_item *plain =
        box_path(drawing, BAR_INK, rows ? "catches of a row" : "catches of a column");
    struct sheet_item *ridge =
        rows ? NULL : box_path(drawing, INK, "columns that may show as a ridge");
    bool told = false;

    for (int i = 0; i < n; i++) {
        double middle = rows ? draw_middle_y(drawing, i) : draw_middle_x(drawing, i);
        double length = (double)count[i] * unit_mm(most);
        bool is_ridge = ridge && count[i] >= dents->ridge_from;
        struct sheet_item *path = is_ridge ? ridge : plain;

        if (count[i] == 0)
            continue;
        if (rows)
            sheet_box(drawing->sheet, path, from - length, middle - wide / 2, length, wide);
        else
            sheet_box(drawing->sheet, path, middle - wide / 2, from, wide, length);
        if (cell < SMALLEST_NUMBERED_MM && (told || count[i] < most))
            continue;
        sheet_add_words(drawing->sheet, rows ? from - length - 0.6 : middle,
                        rows ? middle + 0.7 : from + length + 2.0, BAR_NUMBER_MM,
                        rows ? SHEET_END : SHEET_MIDDLE, words_grouped(&drawing->page, count[i]))
            ->bold = is_ridge;
        told = true;
    }
}

bool draw_has_bars(const struct drawing *drawing)
{
    return drawing->show == DRAW_DENTS && drawing->band->busiest_catches > 0;
}

double draw_dents(struct drawing *drawing)
{
    const struct plan_dents *dents = dents_of(drawing);
    double below = drawing->y_mm + drawing->nrows * drawing->cell_h_mm + NUMBERS_MM;

    if (!draw_has_bars(drawing))
        return 0;
    if (is_crowded(drawing)) /* as far in rows as in stitches: they are drawn in the shape of the gauge */
        add_ring(drawing, draw_middle_x(drawing, dents->column), draw_middle_y(drawing, dents->row),
                 dents->within_in * drawing->plan->piece.gauge.per_in * drawing->cell_w_mm);
    draw_pairs(drawing);
    draw_dots(drawing);
    draw_bars(drawing, false, below, dents->in_column, dents->ncols, dents->most_in_column);
    draw_bars(drawing, true, drawing->x_mm - draw_number_room_mm(drawing), dents->in_row, dents->nrows,
              drawing->band->busiest_catches);
    return NUMBERS_MM + (double)dents->most_in_column * unit_mm(dents->most_in_column);
}

/* --- words --------------------------------------------------------------------------------- */

const char *draw_dents_words(const struct drawing *drawing)
{
    const struct plan_dents *dents = dents_of(drawing);
    const struct page *page = &drawing->page;
    bool alone = true;

    for (int kind = 0; kind < DENT_KINDS; kind++)
        alone = alone && dents->once[kind] == 0;
    if (dents->most == 0)
        return "No float is long enough to be caught here: no catches, so nothing to dent.";
    return words_format(
        page, "%s%s",
        is_crowded(drawing)
            ? words_format(page, "Closest together: %s", words_crowding(page, drawing->band))
            : words_format(page, "Nothing crowded: at most %s within %s of one stitch.",
                           words_count(page, dents->most, "catch", "catches"),
                           words_length(page, dents->within_in)),
        alone ? " No catch stands on or right beside another." : "");
}

/* "3 pairs in a repeat, 252 in the band" */
static const char *pair_counts(const struct drawing *drawing, int kind)
{
    const struct page *page = &drawing->page;
    const char *once = words_grouped(page, dents_of(drawing)->once[kind]);
    const char *whole = words_grouped(page, dents_of(drawing)->whole[kind]);

    if (drawing->band->outer)
        return words_format(page, "%s in the band", whole);
    return dents_of(drawing)->once[kind] == dents_of(drawing)->whole[kind]
               ? once
               : words_format(page, "%s in a repeat, %s in the band", once, whole);
}

/* Nothing better can be had, by hand neither: then she is not sent to look for it. */
static bool no_room(const struct plan_band *band)
{
    return band->ntight > 0 || (band->placed_best && band->proof.proven);
}

/* Two dots and what joins them. */
static void put_pair_sample(struct drawing *drawing, enum dent_kind kind, double x, double y)
{
    double size = 0.66 * DRAW_SAMPLE_MM, middle = y + DRAW_SAMPLE_MM / 2;
    double low = y + 0.76 * DRAW_SAMPLE_MM, high = y + 0.2 * DRAW_SAMPLE_MM;
    double across = kind == DENT_TOUCHING ? size / 2 : kind == DENT_NEAR ? size : 0;
    struct sheet_item *path = joined_path(drawing, kind, size), *dots = dot_path(drawing, false, size);

    path->label = dots->label = NULL;
    if (kind == DENT_DOUBLED) {
        add_dot(drawing, path, x, middle);
        add_dot(drawing, dots, x, middle);
        return;
    }
    add_line(drawing, path, x - across, low, x + across, high);
    add_dot(drawing, dots, x - across, low);
    add_dot(drawing, dots, x + across, high);
}

static void list_marks(struct shelf *shelf)
{
    static const char *const dots[2] = {"a catch behind this stitch",
                                        "hollow: only in the repeat beside an edge"};
    struct drawing *drawing = shelf->drawing;
    const struct page *page = &drawing->page;
    double x, y;

    for (int edge = 0; edge < 2; edge++)
        if (drawing->seen_dot[edge] && shelf_entry(shelf, dots[edge], &x, &y)) {
            struct sheet_item *path = dot_path(drawing, edge, 0.8 * DRAW_SAMPLE_MM);

            path->label = NULL;
            add_dot(drawing, path, x + MIDDLE_MM, y + DRAW_SAMPLE_MM / 2);
        }
    for (int k = 0; k < DENT_KINDS; k++) {
        const struct joined *joined = &joined_of[k];

        if (dents_of(drawing)->once[k] > 0 &&
            shelf_entry(shelf,
                        words_format(page, "%s%s (%s): %s", joined->what,
                                     k < DENT_TOUCHING ? "" : words_round(page),
                                     pair_counts(drawing, k),
                                     no_room(drawing->band) ? joined->no_room : joined->advice),
                        &x, &y))
            put_pair_sample(drawing, (enum dent_kind)k, x + MIDDLE_MM, y);
    }
}

static const char *steps_words(const struct drawing *drawing)
{
    const struct plan_dents *dents = dents_of(drawing);
    const struct page *page = &drawing->page;
    bool beyond = dents->most > dents->step[2];
    const int64_t *shown = dents->shown;

    return words_format(page, "grey: %s, %s, or %s%s catches within %s all round%s",
                        words_range(page, shown[0], shown[1] - 1),
                        words_range(page, shown[1], shown[2] - 1),
                        beyond ? words_range(page, shown[2], dents->most)
                               : words_grouped(page, shown[2]),
                        beyond ? "" : " and more", words_length(page, dents->within_in),
                        beyond ? words_format(page, "; crowded from %s on",
                                              words_grouped(page, dents->step[2]))
                               : "");
}

static void list_crowding(struct shelf *shelf)
{
    struct drawing *drawing = shelf->drawing;
    const struct plan_dents *dents = dents_of(drawing);
    const struct page *page = &drawing->page;
    double width = (DRAW_SAMPLE_ROOM_MM - 2) / DRAW_CROWDED_STEPS, x, y;

    if (!is_crowded(drawing))
        return;
    if (shelf_entry(shelf, steps_words(drawing), &x, &y))
        for (int step = 0; step < DRAW_CROWDED_STEPS; step++)
            sheet_box(drawing->sheet, box_path(drawing, draw_crowded_shade(step), NULL),
                      x + step * width, y, width, DRAW_SAMPLE_MM);
    if (shelf_entry(shelf,
                    words_format(page, "ring: closest together, %s within %s of its middle",
                                 words_count(page, dents->most, "catch", "catches"),
                                 words_length(page, dents->within_in)),
                    &x, &y))
        add_ring(drawing, x + MIDDLE_MM, y + DRAW_SAMPLE_MM / 2, 0.45 * DRAW_SAMPLE_MM);
}

static void list_bar(struct shelf *shelf, struct sheet_shade shade, const char *words)
{
    double x, y;

    if (shelf_entry(shelf, words, &x, &y))
        sheet_box(shelf->drawing->sheet, box_path(shelf->drawing, shade, NULL), x + 4, y, 3,
                  DRAW_SAMPLE_MM);
}

void draw_dents_list(struct shelf *shelf)
{
    struct drawing *drawing = shelf->drawing;
    const struct plan_dents *dents = dents_of(drawing);
    const struct page *page = &drawing->page;

    if (!draw_has_bars(drawing))
        return;
    list_marks(shelf);
    list_crowding(shelf);
    list_bar(shelf, BAR_INK,
             words_format(page, "bars: catches of each column, once upwards (below), and of each whole "
                                "%s (left)", words_round(page)));
    if (dents->most_in_column >= dents->ridge_from)
        list_bar(shelf, INK,
                 words_format(page, "black: %s or more in one column, which is %s times the mean of all "
                                    "columns and no fewer than %s, may show as a ridge upwards. %s",
                              words_grouped(page, dents->ridge_from),
                              words_decimal(page, dents->ridge_ratio, 1),
                              words_grouped(page, dents->ridge_least),
                              no_room(drawing->band) ? "Catch them loosely, or change the chart"
                                                     : "Shift some of them by hand"));
}
