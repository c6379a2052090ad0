/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Old beside new: both charts to one scale, each stitch with the proportion of its own gauge, so that the motif
 * has the same finished size in both.
 */
#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "parts.h"
#include "redraw.h"
#include "words/say.h"

static const double TITLE_MM = 4.2, WORDS_MM = 2.9, SMALL_MM = 2.6, CAPTION_MM = 3.2;
static const double LINE_MM = 5.4, CLOSE_MM = 3.9;
static const double HEAD_MM = 16.0;
static const double BETWEEN_MM = 6.0;  /* the two charts */
static const double NAME_MM = 11.0;    /* what is said above each */
static const double NUMBERS_MM = 6.0;  /* those of the stitches, below it */
static const double KEY_MM = 46.0;     /* what the words below take, near enough */
static const double CELL_LARGEST_MM = 6.5, CELL_SMALLEST_MM = 2.0, CELL_OVER_PAGES_MM = 5.0;
static const double ASIDE_MM = 20.0;   /* numbers at both sides of a chart, and a gap */
static const double SCALE_STEP = 0.05, NEARLY_TRUE = 1.3; /* then it is drawn at true size */
static const double KEY_LEAST_MM = 150.0;
static const double DOT = 0.23, DOT_LINE = 0.05; /* in parts of the smaller side of a stitch */

struct pair {
    struct work *work;
    const struct plan *plan;
    const struct plan_redraw *redraw;
    struct page page;
    double scale;
};

static const struct words_style WORDS_STYLE = {.width = 80};

static double wide_mm(const struct pair *pair, bool new)
{
    return new ? pair->redraw->stitch_width_mm : pair->plan->piece.gauge.stitch_width_mm;
}

static double high_mm(const struct pair *pair, bool new)
{
    return new ? pair->redraw->row_height_mm : pair->plan->piece.gauge.row_height_mm;
}

static const struct plan_band *band_of(const struct pair *pair, bool new)
{
    return new ? pair->redraw->band : pair->redraw->old;
}

/* One of the two, on a sheet of its own with nothing but its stitches and numbers. */
static struct drawing *open_chart(const struct pair *pair, bool new)
{
    struct drawing *drawing = draw_begin(pair->work, pair->plan, band_of(pair, new), DRAW_BLANK, false);
    struct draw_style style = {.cell_mm = wide_mm(pair, new) * pair->scale};

    draw_open_sheet(drawing, &style);
    drawing->cell_h_mm = high_mm(pair, new) * pair->scale;
    drawing->x_mm = draw_number_room_mm(drawing);
    return drawing;
}

/* --- changed stitches ------------------------------------------------------------------------------ */

static void add_dot(struct sheet *sheet, struct sheet_shade ground, double x, double y, double size)
{
    struct sheet_item *path = sheet_add_path(sheet, ground, DOT_LINE * size);
    double half = DOT * size;

    path->label = "changed";
    path->filled = true;
    path->fill = draw_against(ground);
    sheet_move(sheet, path, x, y - half);
    sheet_line(sheet, path, x + half, y);
    sheet_line(sheet, path, x, y + half);
    sheet_line(sheet, path, x - half, y);
    sheet_close(sheet, path);
}

static void draw_changed(const struct pair *pair, struct drawing *drawing)
{
    const struct grid *chart = &pair->redraw->band->drawn;
    double size = fmin(drawing->cell_w_mm, drawing->cell_h_mm);

    for (int at = 0; at < chart->nrows * chart->ncols; at++) {
        int row = at / chart->ncols, column = drawing->right_cols + at % chart->ncols;

        if (pair->redraw->answer.changed[at])
            add_dot(drawing->sheet, draw_shade(drawing, plan_drawn_cell(drawing->band, row, column, false)),
                    draw_middle_x(drawing, column), draw_middle_y(drawing, row), size);
    }
}

/* --- words ------------------------------------------------------------------------------------------- */

static double put_words(const struct pair *pair, struct sheet *sheet, double x, double y, double size, bool bold,
                        double room, const char *words)
{
    words = words_untie(&pair->page, words);
    while (*words) {
        size_t length = sheet_line_bytes(words, room / size);
        struct sheet_item *item = sheet_add_words(
            sheet, x, y, size, SHEET_START, arena_printf(pair->work->arena, "%.*s", (int)length, words));

        item->bold = bold;
        words += length;
        while (*words == ' ')
            words++;
        y += CLOSE_MM;
    }
    return y;
}

static const char *gauge_words(const struct pair *pair, bool new)
{
    bool cm = pair->plan->cm_first;
    double per = cm ? 100 : 25.4;

    return words_format(&pair->page, "%s stitches, %s %s to %s",
                        words_decimal(&pair->page, per / wide_mm(pair, new), cm ? 1 : 2),
                        words_decimal(&pair->page, per / high_mm(pair, new), cm ? 1 : 2),
                        say_rounds(pair->plan->round)->many, cm ? "10 cm" : "the inch");
}

/* Above a chart: which it is, its counts, its finished size, its gauge. */
static void put_name(const struct pair *pair, const struct drawing *drawing, bool new, double y)
{
    const struct page *page = &pair->page;
    const struct redraw_line *columns = &pair->redraw->columns, *rows = &pair->redraw->rows;
    double x = drawing->x_mm;
    struct sheet_item *item = sheet_add_words(
        drawing->sheet, x, y, CAPTION_MM, SHEET_START,
        words_untie(page, words_format(page, "%s: %s by %s", new ? "New" : "Old",
                                       words_count(page, new ? columns->now : columns->was, "stitch", "stitches"),
                                       words_rounds(page, new ? rows->now : rows->was))));

    item->bold = true;
    sheet_add_words(drawing->sheet, x, y + CLOSE_MM, SMALL_MM, SHEET_START,
                    words_untie(page, words_format(page, "%s by %s",
                                                   words_length(page, new ? columns->now_in : columns->was_in),
                                                   words_length(page, new ? rows->now_in : rows->was_in))));
    sheet_add_words(drawing->sheet, x, y + 1.9 * CLOSE_MM, SMALL_MM, SHEET_START,
                    words_untie(page, gauge_words(pair, new)));
}

/* The least a chart takes in width for the words above it. */
static double name_width_mm(const struct pair *pair, bool new)
{
    const struct redraw_line *columns = &pair->redraw->columns, *rows = &pair->redraw->rows;
    const char *size = words_format(&pair->page, "%s by %s",
                                    words_length(&pair->page, new ? columns->now_in : columns->was_in),
                                    words_length(&pair->page, new ? rows->now_in : rows->was_in));

    return fmax(sheet_words_width_mm(size, SMALL_MM, false),
                sheet_words_width_mm(gauge_words(pair, new), SMALL_MM, false)) + 2;
}

static const char *floats_words(const struct pair *pair, const struct redraw_floats *floats)
{
    const struct page *page = &pair->page;

    if (floats->longest_sts == 0)
        return "no floats";
    return words_format(page, "longest float %s, %s; %s over the limit; %s",
                        words_count(page, floats->longest_sts, "stitch", "stitches"),
                        words_length(page, floats->longest_in),
                        floats->over_limit == 0 ? "none" : words_grouped(page, floats->over_limit),
                        floats->catches_piece == 0
                            ? "no catches"
                            : words_format(page, "%s a piece",
                                           words_count(page, floats->catches_piece, "catch", "catches")));
}

static const char *scale_words(const struct pair *pair)
{
    if (fabs(pair->scale - 1) < 0.005)
        return "at true finished size";
    return words_format(&pair->page, "at %s times the finished size",
                        words_decimal(&pair->page, pair->scale, 2));
}

static double put_head(const struct pair *pair, struct sheet *sheet, double room)
{
    const struct page *page = &pair->page;

    put_words(pair, sheet, 0, 4, TITLE_MM, true, room, words_format(page, "%s redrawn", pair->redraw->old->name));
    put_words(pair, sheet, 0, 9.5, WORDS_MM, false, room,
              words_format(page, "Both %s, each stitch with the proportion of its own gauge.", scale_words(pair)));
    return HEAD_MM;
}

/* --- legend ------------------------------------------------------------------------------------------ */

static double list_yarns(const struct pair *pair, struct drawing *drawing, double x, double y, double room)
{
    double at = x;

    for (int yarn = 0; yarn < pair->plan->piece.nyarns; yarn++) {
        const struct plan_yarn *of = &pair->plan->piece.yarns[yarn];
        const char *words = words_clip(&pair->page, of->name, 24);
        double width;

        if (!drawing->seen[yarn])
            continue;
        if (of->over >= 0)
            words = words_format(&pair->page, "%s, sewn on over %s", words,
                                 words_clip(&pair->page, pair->plan->piece.yarns[of->over].name, 24));
        width = DRAW_SAMPLE_MM + 2 + sheet_words_width_mm(words, WORDS_MM, false) + 8;
        if (at > x && at + width > x + room) {
            at = x;
            y += LINE_MM;
        }
        if (of->over >= 0)
            draw_sewn_sample(drawing, yarn, at, y, DRAW_SAMPLE_MM, DRAW_SAMPLE_MM);
        else
            draw_sample(drawing, yarn, at, y, DRAW_SAMPLE_MM, DRAW_SAMPLE_MM);
        sheet_add_words(drawing->sheet, at + DRAW_SAMPLE_MM + 2, y + DRAW_SAMPLE_MM / 2 + 0.36 * WORDS_MM, WORDS_MM,
                        SHEET_START, words);
        at += width;
    }
    return y + LINE_MM;
}

static int most_seen(const struct pair *pair, const struct drawing *drawing)
{
    int yarn = 0;

    for (int i = 0; i < pair->plan->piece.nyarns; i++)
        if (drawing->seen[i] && !drawing->seen[yarn])
            yarn = i;
    return yarn;
}

static double list_changed(const struct pair *pair, struct drawing *drawing, double y, double room)
{
    const struct plan_redraw *redraw = pair->redraw;
    const double aside = DRAW_SAMPLE_MM + 2;
    int yarn = most_seen(pair, drawing);

    if (redraw->answer.nchanged == 0)
        return put_words(pair, drawing->sheet, 0, y + 3, WORDS_MM, false, room,
                         "Every stitch of the new chart has the colour that covers most of it.");
    draw_sample(drawing, yarn, 0, y, DRAW_SAMPLE_MM, DRAW_SAMPLE_MM);
    add_dot(drawing->sheet, draw_shade(drawing, yarn), DRAW_SAMPLE_MM / 2, y + DRAW_SAMPLE_MM / 2, DRAW_SAMPLE_MM);
    return put_words(pair, drawing->sheet, aside, y + DRAW_SAMPLE_MM / 2 + 0.36 * WORDS_MM, WORDS_MM, false,
                     room - aside,
                     words_format(&pair->page, "another colour than covers most of this stitch, to keep lines, parts "
                                               "or floats (%s)",
                                  words_count(&pair->page, redraw->answer.nchanged, "stitch", "stitches")));
}

static double put_legend(const struct pair *pair, struct drawing *drawing, double y, double room)
{
    const struct page *page = &pair->page;
    const struct plan_redraw *redraw = pair->redraw;
    struct sheet *sheet = drawing->sheet;

    y = list_yarns(pair, drawing, 0, y, room);
    y = list_changed(pair, drawing, y, room) + 2;
    y = put_words(pair, sheet, 0, y, WORDS_MM, false, room, draw_reading_words(drawing));
    y = put_words(pair, sheet, 0, y, WORDS_MM, false, room,
                  words_format(page, "Old: %s.", floats_words(pair, &redraw->was)));
    y = put_words(pair, sheet, 0, y, WORDS_MM, false, room,
                  redraw->planned ? words_format(page, "New: %s.", floats_words(pair, &redraw->now))
                                  : "New: its floats cannot be reckoned at this gauge.");
    return put_words(pair, sheet, 0, y, WORDS_MM, false, room,
                     words_format(page, "The limit for floats is %s.", words_limit(page)));
}

/* --- sheets ------------------------------------------------------------------------------------------ */

static double chart_width_mm(const struct pair *pair, const struct drawing *drawing, bool new)
{
    return fmax(2 * drawing->x_mm + drawing->ncols * drawing->cell_w_mm, drawing->x_mm + name_width_mm(pair, new));
}

static void paint(const struct pair *pair, struct drawing *drawing, bool new)
{
    draw_right_side(drawing);
    if (new)
        draw_changed(pair, drawing);
    draw_numbers(drawing);
}

/* Old at the left, new at the right, standing on one line. */
static struct sheet *draw_beside(struct pair *pair)
{
    struct drawing *old = open_chart(pair, false), *new = open_chart(pair, true);
    struct sheet *sheet = old->sheet;
    double old_width = chart_width_mm(pair, old, false), new_width = chart_width_mm(pair, new, true);
    double old_high = old->nrows * old->cell_h_mm, new_high = new->nrows * new->cell_h_mm;
    double top = HEAD_MM + NAME_MM, highest = fmax(old_high, new_high);
    double room = fmax(KEY_LEAST_MM, old_width + BETWEEN_MM + new_width);

    put_head(pair, sheet, room);
    new->sheet = sheet;
    new->x_mm += old_width + BETWEEN_MM;
    old->y_mm = top + highest - old_high;
    new->y_mm = top + highest - new_high;
    put_name(pair, old, false, HEAD_MM + 1);
    put_name(pair, new, true, HEAD_MM + 1);
    paint(pair, old, false);
    paint(pair, new, true);
    for (int yarn = 0; yarn < pair->plan->piece.nyarns; yarn++)
        old->seen[yarn] = old->seen[yarn] || new->seen[yarn];
    sheet->width_mm = room;
    sheet->height_mm = put_legend(pair, old, top + highest + NUMBERS_MM + 2, room) + 1;
    sheet->title = words_format(&pair->page, "%s redrawn", pair->redraw->old->name);
    return sheet;
}

/* One of them, for pages. */
static struct sheet *draw_alone(struct pair *pair, bool new)
{
    struct drawing *drawing = open_chart(pair, new);
    struct sheet *sheet = drawing->sheet;
    double aside = drawing->x_mm, width = chart_width_mm(pair, drawing, new);
    double high = drawing->nrows * drawing->cell_h_mm, top = HEAD_MM + NAME_MM;
    double room = fmin(fmax(width, KEY_LEAST_MM), SHEET_PAGE_WIDTH_MM);

    put_head(pair, sheet, room);
    put_name(pair, drawing, new, HEAD_MM + 1);
    drawing->y_mm = top;
    paint(pair, drawing, new);
    sheet->width_mm = fmax(width, KEY_LEAST_MM);
    sheet->height_mm = put_legend(pair, drawing, top + high + NUMBERS_MM + 2, room) + 1;
    sheet->chart = draw_sheet_chart(drawing, aside, NUMBERS_MM, room);
    sheet->title = words_format(&pair->page, "%s redrawn", pair->redraw->old->name);
    return sheet;
}

static bool is_one_page(const struct sheet *sheet)
{
    return (sheet->width_mm <= SHEET_PAGE_WIDTH_MM && sheet->height_mm <= SHEET_PAGE_HEIGHT_MM) ||
           (sheet->width_mm <= SHEET_LONG_WIDTH_MM && sheet->height_mm <= SHEET_LONG_HEIGHT_MM);
}

/* The scale at which the wider stitches of the two are so wide. */
static double scale_for(const struct pair *pair, double cell_mm)
{
    return cell_mm / fmax(wide_mm(pair, false), wide_mm(pair, true));
}

/* The scale at which something of that finished size, and what stands round it, goes on a page. */
static double fitting(double width, double height, double aside)
{
    double above = HEAD_MM + NAME_MM + KEY_MM;

    return fmax(fmin((SHEET_PAGE_WIDTH_MM - aside) / width, (SHEET_PAGE_HEIGHT_MM - above) / height),
                fmin((SHEET_LONG_WIDTH_MM - aside) / width, (SHEET_LONG_HEIGHT_MM - above) / height));
}

/* As large as a page allows, within reason; else as a page for each allows; else for reading. */
static double choose_scale(struct pair *pair)
{
    double least = scale_for(pair, CELL_SMALLEST_MM), most = scale_for(pair, CELL_LARGEST_MM);
    double width = 0, widest = 0, height = 0, fits;

    for (int new = 0; new < 2; new++) {
        const struct plan_band *band = band_of(pair, new == 1);
        double wide = (band->drawn.ncols + band->side_sts) * wide_mm(pair, new == 1);

        width += wide;
        widest = fmax(widest, wide);
        height = fmax(height, band->rows * high_mm(pair, new == 1));
    }
    fits = fitting(width, height, 2 * ASIDE_MM);
    if (fits < least)
        fits = fitting(widest, height, ASIDE_MM);
    if (fits < least)
        fits = scale_for(pair, CELL_OVER_PAGES_MM);
    fits = fmin(fits, most);
    if (fits >= 1 && fits < NEARLY_TRUE)
        return 1;
    return fmax(floor(fits / SCALE_STEP) * SCALE_STEP, SCALE_STEP);
}

int draw_redraw(struct work *work, const struct plan *plan, const struct plan_redraw *redraw, bool pages,
                struct sheet **sheets)
{
    struct pair pair = {work, plan, redraw, {work, plan, &WORDS_STYLE, NULL}, 1};

    pair.scale = choose_scale(&pair);
    sheets[0] = draw_beside(&pair);
    if (!pages || is_one_page(sheets[0]))
        return 1;
    sheets[0] = draw_alone(&pair, false);
    sheets[1] = draw_alone(&pair, true);
    return 2;
}
