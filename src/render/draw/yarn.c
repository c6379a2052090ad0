/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where each yarn goes, and what is bought of it. A bar in the yarn's shade is all of it, cut by
 * use: every use has its hatching and its letter, so that a copy in grey reads the same. Below it
 * the balls, their area as their length, filled as far as they are needed; what is in hand stands
 * before what is bought and has a ring round it.
 */
#include <math.h>

#include "base/arena.h"
#include "base/shade.h"
#include "base/text.h"
#include "parts.h"
#include "render/report/report.h"

static const struct sheet_shade INK = {0, 0, 0}, PAPER = {255, 255, 255}, GREY = {140, 140, 140};
static const struct words_style WORDS_STYLE = {.width = 80};
static const double PI = 3.14159265358979323846;
static const double WIDTH_MM = 180.0, BAR_MM = 9.0, MARGIN_MM = 0.3; /* margin: half an outline */
static const double TITLE_MM = 4.2, NAME_MM = 3.4, WORDS_MM = 2.9, SMALL_MM = 2.6;
static const double LINE_MM = 4.4;
static const double OUTLINE_MM = 0.3, HATCH_MM = 0.22;
static const double LETTER_LEAST_MM = 4.2; /* narrower, and a use has no room for its letter */
static const double BALL_LARGEST_MM = 17.0, BALL_SMALLEST_MM = 5.0, BALL_GAP_MM = 2.5;
static const double RING_MM = 0.9; /* out from the ball; less than half the gap */
enum { BALLS_DRAWN = 40, CIRCLE_POINTS = 72, STRAND_POINTS = 20 };

struct yarn_sheet {
    const struct plan *plan;
    struct page page; /* for words alone */
    struct sheet *sheet;
    const struct plan_yarn *yarn;
    struct sheet_shade shade, ink; /* ink: what stands out on the shade */
    double y_mm;
};

/* --- hatching ---------------------------------------------------------------- */

enum { RISING = 1, FALLING = 2, UPRIGHT = 4, LYING = 8 };

struct hatch {
    int lines;      /* which ways */
    double step_mm; /* from one line to the next */
};

static struct hatch hatch_of(enum yarn_use use)
{
    static const struct hatch all[USE_COUNT] = {
        [USE_STITCHES] = {0, 0},
        [USE_FLOATS] = {LYING, 1.5},
        [USE_CATCHES] = {RISING | FALLING, 1.0},
        [USE_CAST_ON] = {UPRIGHT, 0.8},
        [USE_RIB] = {UPRIGHT, 2.0},
        [USE_PLAIN] = {RISING, 3.0},
        [USE_SELVEDGE] = {FALLING, 1.2},
        [USE_STEEK] = {RISING | FALLING, 2.0},
        [USE_BIND_OFF] = {UPRIGHT | LYING, 1.1},
        [USE_SEAM] = {FALLING, 2.6},
        [USE_CARRIED] = {RISING, 1.0},
        [USE_TAILS] = {LYING, 0.7},
        [USE_DUPLICATE] = {UPRIGHT | LYING, 2.4},
        [USE_SWATCH] = {RISING | FALLING, 3.4},
    };

    return all[use];
}

static void add_line(struct sheet *sheet, struct sheet_item *path, double x1, double y1, double x2,
                     double y2)
{
    sheet_move(sheet, path, x1, y1);
    sheet_line(sheet, path, x2, y2);
}

/* Lines at 45 degrees through a box, cut off at its sides. */
static void add_sloping(struct sheet *sheet, struct sheet_item *path, double x, double y,
                        double width, double height, double step, bool rising)
{
    for (double from = step / 2 - height; from < width; from += step) {
        double left = fmax(0, from), right = fmin(width, from + height);
        double up1 = left - from, up2 = right - from;

        add_line(sheet, path, x + left, rising ? y + height - up1 : y + up1, x + right,
                 rising ? y + height - up2 : y + up2);
    }
}

static void add_hatch(struct sheet *sheet, struct sheet_item *path, double x, double y,
                      double width, double height, struct hatch hatch)
{
    if (hatch.lines & RISING)
        add_sloping(sheet, path, x, y, width, height, hatch.step_mm, true);
    if (hatch.lines & FALLING)
        add_sloping(sheet, path, x, y, width, height, hatch.step_mm, false);
    for (double at = hatch.step_mm / 2; (hatch.lines & UPRIGHT) && at < width; at += hatch.step_mm)
        add_line(sheet, path, x + at, y, x + at, y + height);
    for (double at = hatch.step_mm / 2; (hatch.lines & LYING) && at < height; at += hatch.step_mm)
        add_line(sheet, path, x, y + at, x + width, y + at);
}

/* --- the bar ---------------------------------------------------------------- */

static struct sheet_item *filled_path(struct sheet *sheet, struct sheet_shade fill,
                                      struct sheet_shade stroke, double stroke_mm,
                                      const char *label)
{
    struct sheet_item *path = sheet_add_path(sheet, stroke, stroke_mm);

    path->filled = true;
    path->fill = fill;
    path->square_ends = true;
    path->label = label;
    return path;
}

/* The letter of a use on a patch without hatching. */
static void put_letter(struct yarn_sheet *on, enum yarn_use use, double middle_x, double middle_y)
{
    const double patch = 1.25 * WORDS_MM;
    const char *letter = words_format(&on->page, "%c", words_use_letter(use));
    struct sheet_item *box = filled_path(on->sheet, on->shade, on->shade, 0, NULL);
    struct sheet_item *words;

    sheet_box(on->sheet, box, middle_x - patch / 2, middle_y - patch / 2, patch, patch);
    words = sheet_add_words(on->sheet, middle_x, middle_y + 0.36 * WORDS_MM, WORDS_MM, SHEET_MIDDLE,
                            letter);
    words->bold = true;
    words->fill = on->ink;
}

static void draw_bar(struct yarn_sheet *on)
{
    const struct plan_yarn *yarn = on->yarn;
    struct sheet *sheet = on->sheet;
    double x = MARGIN_MM, scale = WIDTH_MM / yarn->length_m;

    sheet_box(sheet, filled_path(sheet, on->shade, INK, 0, "all of a yarn"), x, on->y_mm, WIDTH_MM,
              BAR_MM);
    for (int use = 0; use < USE_COUNT; use++) {
        double width = yarn->use_m[use] * scale;
        struct hatch hatch = hatch_of((enum yarn_use)use);

        if (!(width > 0))
            continue;
        if (hatch.lines) {
            struct sheet_item *lines = sheet_add_path(sheet, on->ink, HATCH_MM);

            lines->square_ends = true;
            lines->label = plan_use_name((enum yarn_use)use);
            add_hatch(sheet, lines, x, on->y_mm, width, BAR_MM, hatch);
        }
        if (x > MARGIN_MM)
            add_line(sheet, sheet_add_path(sheet, on->ink, OUTLINE_MM), x, on->y_mm, x,
                     on->y_mm + BAR_MM);
        if (width >= LETTER_LEAST_MM)
            put_letter(on, (enum yarn_use)use, x + width / 2, on->y_mm + BAR_MM / 2);
        x += width;
    }
    sheet_box(sheet, sheet_add_path(sheet, INK, OUTLINE_MM), MARGIN_MM, on->y_mm, WIDTH_MM, BAR_MM);
    on->y_mm += BAR_MM;
}

static void put_words(struct yarn_sheet *on, double size, bool bold, const char *words)
{
    struct sheet_item *item;

    on->y_mm += LINE_MM;
    item =
        sheet_add_words(on->sheet, 0, on->y_mm, size, SHEET_START, words_untie(&on->page, words));
    item->bold = bold;
}

/* All uses with their metres, in the order of the bar, as many on a line as fit. */
static void put_uses(struct yarn_sheet *on)
{
    const char *metres[USE_COUNT], *sum;
    struct text line = text_create(on->page.work->arena);

    words_yarn_column(&on->page, on->yarn->use_m, USE_COUNT, metres, &sum);
    for (int use = 0; use < USE_COUNT; use++) {
        const char *one;

        if (!(on->yarn->use_m[use] > 0))
            continue;
        one = words_format(&on->page, "%c %s %s", words_use_letter((enum yarn_use)use),
                           plan_use_name((enum yarn_use)use), metres[use]);
        if (line.length > 0 &&
            sheet_words_width_mm(words_format(&on->page, "%s,  %s", line.bytes, one), SMALL_MM,
                                 false) >
                WIDTH_MM) {
            put_words(on, SMALL_MM, false, words_format(&on->page, "%s,", line.bytes));
            line = text_create(on->page.work->arena);
        }
        text_addf(&line, "%s%s", line.length > 0 ? ",  " : "", one);
    }
    put_words(on, SMALL_MM, false, line.bytes);
}

/* --- balls --------------------------------------------------------------------------------------
 */

struct ball_drawing {
    double x, y, r; /* of its middle */
    double level;   /* filled below this, from the middle downwards, -r to r */
};

/* Where the level stands when that part of a disc of radius 1 lies below it: by halving. */
static double level_of(double part)
{
    double high = -1, low = 1; /* downwards */

    for (int i = 0; i < 50; i++) {
        double middle = (high + low) / 2;
        double below = (acos(middle) - middle * sqrt(1 - middle * middle)) / PI;

        if (below > part)
            high = middle;
        else
            low = middle;
    }
    return (high + low) / 2;
}

/* The filled part: the circle from where the level cuts it, round by the bottom. */
static void add_filled(struct sheet *sheet, struct sheet_item *path,
                       const struct ball_drawing *ball)
{
    double from = asin(fmin(1, fmax(-1, ball->level / ball->r))), sweep = PI - 2 * from;

    for (int i = 0; i <= CIRCLE_POINTS; i++) {
        double angle = from + sweep * i / CIRCLE_POINTS;
        double x = ball->x + ball->r * cos(angle), y = ball->y + ball->r * sin(angle);

        if (i == 0)
            sheet_move(sheet, path, x, y);
        else
            sheet_line(sheet, path, x, y);
    }
    sheet_close(sheet, path);
}

static void add_circle(struct sheet *sheet, struct sheet_item *path,
                       const struct ball_drawing *ball)
{
    struct ball_drawing full = *ball;

    full.level = -full.r;
    add_filled(sheet, path, &full);
}

/* A bowed strand; only what lies below the level, and on its own side of the line where the two
 * ways of winding meet. */
static void add_strand(struct sheet *sheet, struct sheet_item *path,
                       const struct ball_drawing *ball, double angle, double offset, double bow,
                       bool over)
{
    const double meet = -0.5; /* slope of that line */
    double reach = sqrt(1 - offset * offset);
    bool down = false;

    for (int i = 0; i <= STRAND_POINTS; i++) {
        double along = reach * (2.0 * i / STRAND_POINTS - 1);
        double away = offset + bow * (reach * reach - along * along);
        double x = along * cos(angle) - away * sin(angle),
               y = along * sin(angle) + away * cos(angle);
        bool here = (y > meet * x) != over && y * ball->r >= ball->level && x * x + y * y <= 1;

        if (here && down)
            sheet_line(sheet, path, ball->x + x * ball->r, ball->y + y * ball->r);
        else if (here)
            sheet_move(sheet, path, ball->x + x * ball->r, ball->y + y * ball->r);
        down = here;
    }
}

static void draw_ball(struct yarn_sheet *on, const struct ball_drawing *ball)
{
    struct sheet *sheet = on->sheet;
    struct sheet_item *outline = filled_path(sheet, PAPER, GREY, OUTLINE_MM, "a ball");
    struct sheet_item *used =
        filled_path(sheet, on->shade, INK, OUTLINE_MM, "what is needed of it");
    struct sheet_item *strands;

    outline->dash_mm = 0.9;
    add_circle(sheet, outline, ball);
    add_filled(sheet, used, ball);
    strands = sheet_add_path(sheet, on->ink, HATCH_MM);
    for (int i = -3; i <= 3; i++) {
        add_strand(sheet, strands, ball, -0.45, 0.24 * i, 0.14, true);
        add_strand(sheet, strands, ball, 1.05, 0.24 * i, -0.16, false);
    }
}

/* One ball as it is drawn. */
struct ball_part {
    double whole_m, used_part;
    bool in_hand;
};
struct ball_row {
    int n;
    bool any_in_hand;
    double largest_m;
    struct ball_part ball[2 * BALLS_DRAWN];
};

static void add_ball(struct ball_row *row, double whole_m, double used_part, bool in_hand)
{
    row->ball[row->n++] = (struct ball_part){whole_m, used_part, in_hand};
    row->any_in_hand = row->any_in_hand || in_hand;
    row->largest_m = fmax(row->largest_m, whole_m);
}

/* What is in hand in balls of its kind and a smaller one; where no ball is known, in one. */
static void add_in_hand(struct ball_row *row, const struct plan_yarn *yarn)
{
    const double hair_m = 1e-6;
    double left_m = yarn->have_m, used_m = yarn->have_used_m;

    while (left_m > hair_m && row->n < BALLS_DRAWN) {
        double whole_m = yarn->has_ball ? fmin(left_m, yarn->ball_m) : left_m;

        add_ball(row, whole_m, fmin(1.0, fmax(0.0, used_m / whole_m)), true);
        left_m -= whole_m;
        used_m -= whole_m;
    }
}

static void read_balls(const struct plan_yarn *yarn, struct ball_row *row)
{
    int bought = yarn->buy.balls > BALLS_DRAWN ? BALLS_DRAWN : (int)yarn->buy.balls;

    *row = (struct ball_row){0};
    add_in_hand(row, yarn);
    for (int i = 0; i < bought; i++)
        add_ball(row, yarn->ball_m, i + 1 == bought ? yarn->buy.last_used : 1.0, false);
}

static double across_mm(const struct plan_piece *piece, double metres)
{
    double longest_m = 0;

    for (int i = 0; i < piece->nyarns; i++) {
        struct ball_row row;

        if (!piece->yarns[i].used)
            continue;
        read_balls(&piece->yarns[i], &row);
        longest_m = fmax(longest_m, row.largest_m);
    }
    return fmax(BALL_LARGEST_MM * sqrt(metres / longest_m), BALL_SMALLEST_MM);
}

static void draw_ring(struct yarn_sheet *on, const struct ball_drawing *ball)
{
    struct sheet_item *path = sheet_add_path(on->sheet, INK, OUTLINE_MM);
    struct ball_drawing ring = *ball;

    path->label = "in hand";
    ring.r += RING_MM;
    add_circle(on->sheet, path, &ring);
}

static void draw_balls(struct yarn_sheet *on, const struct ball_row *row)
{
    const struct plan_piece *piece = &on->plan->piece;
    double ring = row->any_in_hand ? RING_MM : 0.0, left = MARGIN_MM + ring, x = left;
    double across = across_mm(piece, row->largest_m);

    on->y_mm += BALL_GAP_MM + ring;
    for (int i = 0; i < row->n; i++) {
        double own = across_mm(piece, row->ball[i].whole_m);
        struct ball_drawing ball;

        if (x + own + ring > WIDTH_MM + MARGIN_MM) {
            x = left;
            on->y_mm += across + BALL_GAP_MM;
        }
        ball = (struct ball_drawing){
            .x = x + own / 2, .y = on->y_mm + across / 2, .r = own / 2};
        ball.level = ball.r * level_of(row->ball[i].used_part);
        draw_ball(on, &ball);
        if (row->ball[i].in_hand)
            draw_ring(on, &ball);
        x += own + BALL_GAP_MM;
    }
    on->y_mm += across + ring;
}

static void put_in_hand(struct yarn_sheet *on)
{
    const struct page *page = &on->page;
    const struct plan_yarn *yarn = on->yarn;
    const char *have = words_yarn_length(page, yarn->have_m);

    if (yarn->have_enough)
        put_words(on, WORDS_MM, false,
                  words_format(page, "%s in hand (ringed) is enough with %s to spare; nothing to buy.",
                               have, words_percent(page, yarn->margin)));
    else if (yarn->has_ball)
        put_words(on, WORDS_MM, false, words_format(page, "%s in hand (ringed), used first.", have));
    else
        put_words(on, WORDS_MM, false,
                  words_format(page, "%s in hand (ringed), used first; it falls short by %s, %s to "
                                     "spare counted in.",
                               have, words_yarn_length(page, yarn->need_m),
                               words_percent(page, yarn->margin)));
}

static void put_buying(struct yarn_sheet *on)
{
    const struct page *page = &on->page;
    const struct plan_yarn *yarn = on->yarn;
    const char *some =
        yarn->buy.balls > BALLS_DRAWN ? words_format(page, " (%d of them drawn)", BALLS_DRAWN) : "";

    put_words(on, WORDS_MM, false,
              words_format(page, "Buy %s of %s, %s%s%s: %s%s with %s to spare; %s left over.",
                           words_count(page, yarn->buy.balls, "ball", "balls"),
                           words_grams(page, yarn->ball_g), words_yarn_length(page, yarn->band_m),
                           yarn->buy.balls > 1 ? " each" : "", some,
                           words_yarn_length(page, yarn->buy.need_m),
                           yarn->have_m > 0.0 ? " more" : "", words_percent(page, yarn->margin),
                           words_yarn_length(page, yarn->buy.left_m)));
}

/* --- the sheet -----------------------------------------------------------------------------------
 */

static bool any_in_hand(const struct plan_piece *piece)
{
    bool any = false;

    for (int i = 0; i < piece->nyarns; i++)
        any = any || (piece->yarns[i].used && piece->yarns[i].have_m > 0.0);
    return any;
}

static void put_head(struct yarn_sheet *on)
{
    const char *title = on->plan->title && *on->plan->title
                            ? words_format(&on->page, "%s: the yarn", on->plan->title)
                            : "The yarn";

    on->y_mm = -0.4;
    put_words(on, TITLE_MM, true, words_clip(&on->page, title, 60));
    put_words(on, WORDS_MM, false,
              words_format(&on->page,
                           "For %s. Each bar is all of one yarn, as worked, cut by where it goes, "
                           "in the order named below it.",
                           words_pieces(&on->page)));
    put_words(
        on, WORDS_MM, false,
        words_format(&on->page,
                     "A ball's area is its length; it is filled as far as it is needed, what is to "
                     "spare included.%s",
                     any_in_hand(&on->plan->piece) ? " Ringed: in hand." : ""));
    on->y_mm += 0.6 * LINE_MM;
}

static struct sheet *draw_yarn(struct work *work, const struct plan *plan, int index, bool first)
{
    const struct plan_yarn *yarn = &plan->piece.yarns[index];
    struct yarn_sheet on = {.plan = plan,
                            .page = {work, plan, &WORDS_STYLE, NULL},
                            .sheet = sheet_create(work),
                            .yarn = yarn,
                            .shade = {yarn->rgb[0], yarn->rgb[1], yarn->rgb[2]}};
    struct ball_row row;
    const char *grams = isfinite(yarn->grams)
                            ? words_format(&on.page, ", %s", words_grams(&on.page, yarn->grams))
                            : "";

    on.ink = draw_against(on.shade);
    on.sheet->title = plan->title && *plan->title
                          ? arena_printf(work->arena, "%s: the yarn", plan->title)
                          : "The yarn";
    on.sheet->width_mm = WIDTH_MM + 2 * MARGIN_MM;
    if (first)
        put_head(&on);
    put_words(&on, NAME_MM, true,
              words_format(&on.page, "%s  %s%s", words_clip(&on.page, yarn->name, 40),
                           words_yarn_length(&on.page, yarn->length_m), grams));
    on.y_mm += 1.6;
    draw_bar(&on);
    put_uses(&on);
    read_balls(yarn, &row);
    if (row.n > 0)
        draw_balls(&on, &row);
    if (row.any_in_hand)
        put_in_hand(&on);
    if (yarn->buy.balls > 0)
        put_buying(&on);
    on.sheet->height_mm = on.y_mm + 1.5;
    return on.sheet;
}

int draw_yarns(struct work *work, const struct plan *plan, struct sheet **sheets)
{
    int n = 0;

    for (int i = 0; i < plan->piece.nyarns; i++)
        if (plan->piece.yarns[i].used) {
            sheets[n] = draw_yarn(work, plan, i, n == 0);
            n++;
        }
    return n;
}
