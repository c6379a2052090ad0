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

/* One of the two. */
struct half {
    const char *name;
    const struct plan_band *band;
    int ncols, nrows;
    double wide_mm, high_mm; /* a stitch, at true size */
    const char *size_words, *gauge_words, *floats_words;
};

struct pair {
    struct work *work;
    const struct plan *plan;
    const struct plan_redraw *redraw;
    struct page page;
    struct half of[2]; /* old, new */
    double scale;
};

static const struct words_style WORDS_STYLE = {.width = 80};

/* On a sheet of its own with nothing but its stitches and numbers. */
static struct drawing *open_chart(const struct pair *pair, const struct half *half)
{
    struct drawing *drawing = draw_begin(pair->work, pair->plan, half->band, DRAW_BLANK, false);
    struct draw_style style = {.cell_mm = half->wide_mm * pair->scale};

    draw_open_sheet(drawing, &style);
    drawing->cell_h_mm = half->high_mm * pair->scale;
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
    for (const char *line; (line = sheet_next_line(pair->work->arena, &words, room / size)); y += CLOSE_MM)
        sheet_add_words(sheet, x, y, size, SHEET_START, line)->bold = bold;
    return y;
}

static const char *floats_words(const struct page *page, const struct redraw_floats *floats)
{
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

static struct half half_of(const struct page *page, const struct plan_redraw *redraw, bool new)
{
    const struct redraw_gauge *gauge = new ? &redraw->gauge_now : &redraw->gauge_was;
    const struct redraw_line *columns = &redraw->columns, *rows = &redraw->rows;
    bool cm = page->plan->cm_first;
    double per = cm ? 100 : 25.4;

    return (struct half){
        .name = new ? "New" : "Old",
        .band = new ? redraw->band : redraw->old,
        .ncols = new ? columns->now : columns->was,
        .nrows = new ? rows->now : rows->was,
        .wide_mm = gauge->stitch_width_mm,
        .high_mm = gauge->row_height_mm,
        .size_words = words_format(page, "%s by %s", words_length(page, new ? columns->now_in : columns->was_in),
                                   words_length(page, new ? rows->now_in : rows->was_in)),
        .gauge_words = words_format(page, "%s stitches, %s %s to %s",
                                    words_decimal(page, per / gauge->stitch_width_mm, cm ? 1 : 2),
                                    words_decimal(page, per / gauge->row_height_mm, cm ? 1 : 2),
                                    say_rounds(page->plan->round)->many, cm ? "10 cm" : "the inch"),
        .floats_words = new && !redraw->planned ? "its floats cannot be reckoned at this gauge"
                                                : floats_words(page, new ? &redraw->now : &redraw->was)};
}

/* Above a chart: which it is, its counts, its finished size, its gauge. */
static void put_name(const struct pair *pair, const struct half *half, struct sheet *sheet, double x)
{
    const struct page *page = &pair->page;
    const double y = HEAD_MM + 1;
    const char *name = words_format(page, "%s: %s by %s", half->name,
                                    words_count(page, half->ncols, "stitch", "stitches"),
                                    words_rounds(page, half->nrows));

    sheet_add_words(sheet, x, y, CAPTION_MM, SHEET_START, words_untie(page, name))->bold = true;
    sheet_add_words(sheet, x, y + CLOSE_MM, SMALL_MM, SHEET_START, words_untie(page, half->size_words));
    sheet_add_words(sheet, x, y + 1.9 * CLOSE_MM, SMALL_MM, SHEET_START, words_untie(page, half->gauge_words));
}

/* The least a chart takes in width for the words above it. */
static double name_width_mm(const struct half *half)
{
    return fmax(sheet_words_width_mm(half->size_words, SMALL_MM, false),
                sheet_words_width_mm(half->gauge_words, SMALL_MM, false)) + 2;
}

static void put_head(const struct pair *pair, struct sheet *sheet, double room)
{
    const struct page *page = &pair->page;
    const char *scale = fabs(pair->scale - 1) < 0.005
                            ? "at true finished size"
                            : words_format(page, "at %s times the finished size", words_decimal(page, pair->scale, 2));

    sheet->title = words_format(page, "%s redrawn", pair->redraw->old->name);
    put_words(pair, sheet, 0, 4, TITLE_MM, true, room, sheet->title);
    put_words(pair, sheet, 0, 9.5, WORDS_MM, false, room,
              words_format(page, "Both %s, each stitch with the proportion of its own gauge.", scale));
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
    const char *const words[] = {draw_reading_words(drawing),
                                 words_format(page, "Old: %s.", pair->of[0].floats_words),
                                 words_format(page, "New: %s.", pair->of[1].floats_words),
                                 words_format(page, "The limit for floats is %s.", words_limit(page))};

    y = list_yarns(pair, drawing, 0, y, room);
    y = list_changed(pair, drawing, y, room) + 2;
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        y = put_words(pair, drawing->sheet, 0, y, WORDS_MM, false, room, words[i]);
    return y;
}

/* --- sheets ------------------------------------------------------------------------------------------ */

/* Old at the left, new at the right, standing on one line; or one of them, for pages. */
static struct sheet *draw_halves(const struct pair *pair, int first, int last)
{
    struct drawing *drawings[2];
    struct sheet *sheet = NULL;
    double width = 0, highest = 0, aside = 0, room, top = HEAD_MM + NAME_MM;

    for (int i = first; i <= last; i++) {
        struct drawing *drawing = drawings[i] = open_chart(pair, &pair->of[i]);
        double wide = drawing->ncols * drawing->cell_w_mm;

        aside = drawing->x_mm;
        width += i > first ? BETWEEN_MM : 0;
        drawing->x_mm += width;
        width += fmax(2 * aside + wide, aside + name_width_mm(&pair->of[i]));
        highest = fmax(highest, drawing->nrows * drawing->cell_h_mm);
        sheet = sheet ? sheet : drawing->sheet;
        drawing->sheet = sheet;
    }
    width = fmax(KEY_LEAST_MM, width);
    room = first == last ? fmin(width, SHEET_PAGE_WIDTH_MM) : width;
    put_head(pair, sheet, room);
    for (int i = first; i <= last; i++)
        put_name(pair, &pair->of[i], sheet, drawings[i]->x_mm);
    for (int i = first; i <= last; i++) {
        drawings[i]->y_mm = top + highest - drawings[i]->nrows * drawings[i]->cell_h_mm;
        draw_right_side(drawings[i]);
        if (i == 1)
            draw_changed(pair, drawings[i]);
        draw_numbers(drawings[i]);
        for (int yarn = 0; yarn < pair->plan->piece.nyarns; yarn++)
            drawings[first]->seen[yarn] |= drawings[i]->seen[yarn];
    }
    sheet->width_mm = width;
    sheet->height_mm = put_legend(pair, drawings[first], top + highest + NUMBERS_MM + 2, room) + 1;
    if (first == last)
        sheet->chart = draw_sheet_chart(drawings[first], aside, NUMBERS_MM, room);
    return sheet;
}

/* The scale at which the wider stitches of the two are so wide. */
static double scale_for(const struct pair *pair, double cell_mm)
{
    return cell_mm / fmax(pair->of[0].wide_mm, pair->of[1].wide_mm);
}

/* The scale at which something of that finished size, and what stands round it, goes on a page. */
static double fitting(double width, double height, double aside)
{
    double above = HEAD_MM + NAME_MM + KEY_MM;

    return fmax(fmin((SHEET_PAGE_WIDTH_MM - aside) / width, (SHEET_PAGE_HEIGHT_MM - above) / height),
                fmin((SHEET_LONG_WIDTH_MM - aside) / width, (SHEET_LONG_HEIGHT_MM - above) / height));
}

/* As large as a page allows, within reason; else as a page for each allows; else for reading. */
static double choose_scale(const struct pair *pair)
{
    double least = scale_for(pair, CELL_SMALLEST_MM), most = scale_for(pair, CELL_LARGEST_MM);
    double width = 0, widest = 0, height = 0, fits;

    for (int i = 0; i < 2; i++) {
        const struct half *half = &pair->of[i];
        double wide = (half->band->drawn.ncols + half->band->side_sts) * half->wide_mm;

        width += wide;
        widest = fmax(widest, wide);
        height = fmax(height, half->band->rows * half->high_mm);
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
    struct pair pair = {.work = work, .plan = plan, .redraw = redraw, .page = {work, plan, &WORDS_STYLE, NULL}};

    for (int i = 0; i < 2; i++)
        pair.of[i] = half_of(&pair.page, redraw, i == 1);
    pair.scale = choose_scale(&pair);
    sheets[0] = draw_halves(&pair, 0, 1);
    if (!pages || sheet_way_on_page(sheets[0]->width_mm, sheets[0]->height_mm) != PAGE_NONE)
        return 1;
    sheets[0] = draw_halves(&pair, 0, 0);
    sheets[1] = draw_halves(&pair, 1, 1);
    return 2;
}
