/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is drawn, counted against the chart: areas are stitches, marks are catches.
 */
#include <CUnit/Basic.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "fixture_plan.h"
#include "fixture_work.h"
#include "render/draw/draw.h"

/* Four by three: 9 cream, 2 slate, 1 coral sewn on over cream. By hand. */
static const char *const small_rows[] = {"..x.", "o...", "...x", NULL};

static const struct sheet *draw_small(struct work *work, bool wrong_side)
{
    struct plan *plan = fixture_plan(work, small_rows, 3, true);
    /* slate behind columns 2 and 3 of row 1, cream behind column 2 of row 3 */
    static const struct fixture_catch catches[] = {
        {1, 2, FIXTURE_SLATE}, {1, 3, FIXTURE_SLATE}, {3, 2, FIXTURE_CREAM}};
    struct draw_style style = {.wrong_side = wrong_side, .cell_mm = 4.5};

    plan->piece.bands[0].catches = fixture_catches(work, catches, 3);
    plan->piece.gauge.stitch_width_mm = 3.2;
    plan->piece.gauge.row_height_mm = 2.56; /* 0.8 of the width */
    return draw_band(work, plan, &plan->piece.bands[0], &style);
}

static bool is_named(const struct sheet_item *item, const char *label)
{
    return item->label && strcmp(item->label, label) == 0;
}

static int64_t cells_in(const struct sheet *sheet, const char *label)
{
    int64_t cells = 0;

    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        for (size_t i = 0; is_named(item, label) && i < item->count; i++)
            cells += item->kind == SHEET_CELLS ? item->run[i].cells : 0;
    return cells;
}

static int lines_of(const struct sheet *sheet, const char *label)
{
    int lines = 0;

    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        for (size_t i = 0; is_named(item, label) && i < item->count; i++)
            lines += item->kind == SHEET_PATH && item->point[i].what == 'M';
    return lines;
}

static void areas_are_stitches(void)
{
    struct work work = fixture_work();
    const struct sheet *sheet = draw_small(&work, false);

    CU_ASSERT_EQUAL(cells_in(sheet, "stitches in cream"), 10); /* one of them under the coral */
    CU_ASSERT_EQUAL(cells_in(sheet, "stitches in slate"), 2);
    CU_ASSERT_EQUAL(cells_in(sheet, "stitches in coral"), 0);
    CU_ASSERT_EQUAL(lines_of(sheet, "sewn on in coral"), 2 + 2); /* frame: two boxes; legend again */
    arena_destroy(work.arena);
}

static void marks_are_catches(void)
{
    struct work work = fixture_work();
    const struct sheet *sheet = draw_small(&work, false);

    CU_ASSERT_EQUAL(lines_of(sheet, "catches of slate"), 2 + 1); /* and one in the legend */
    CU_ASSERT_EQUAL(lines_of(sheet, "catches of cream"), 1 + 1);
    arena_destroy(work.arena);
}

static void stitches_keep_their_shape(void)
{
    struct work work = fixture_work();
    const struct sheet *sheet = draw_small(&work, false);

    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        if (item->kind == SHEET_CELLS) {
            CU_ASSERT_DOUBLE_EQUAL(item->cell_width_mm, 4.5, 1e-12);
            CU_ASSERT_DOUBLE_EQUAL(item->cell_height_mm, 3.6, 1e-12); /* 4.5 x 0.8 */
        }
    arena_destroy(work.arena);
}

/* Column 1 (row 1 is slate there) stands at the right of the one and the left of the other. */
static void wrong_side_is_mirrored(void)
{
    struct work work = fixture_work();
    const struct sheet *sides[2] = {draw_small(&work, false), draw_small(&work, true)};

    for (int side = 0; side < 2; side++)
        for (const struct sheet_item *item = sides[side]->first; item; item = item->next)
            if (item->kind == SHEET_CELLS && strcmp(item->label, "stitches in slate") == 0) {
                CU_ASSERT_EQUAL_FATAL(item->count, 2);
                CU_ASSERT_EQUAL(item->run[0].y, 2);
                CU_ASSERT_EQUAL(item->run[0].x, side == 0 ? 3 : 0);
            }
    CU_ASSERT_EQUAL(lines_of(sides[1], "ties in cream"), 2); /* slate is held by cream stitches */
    CU_ASSERT_EQUAL(lines_of(sides[1], "ties in slate"), 1); /* this plan lists no strands below */
    arena_destroy(work.arena);
}

/* Flat, one repeat: slate's float behind stitches 3 to 5 is there; the one over the join, caught
 * behind stitch 1 in a ring, is not. By hand. */
static void of_one_flat_repeat_only_what_is_there(void)
{
    static const char *const rows[] = {"x...x.", NULL};
    static const struct fixture_catch catches[] = {{1, 1, FIXTURE_SLATE}, {1, 4, FIXTURE_SLATE}};
    struct work work = fixture_work();

    for (int side = 0; side < 2; side++) {
        struct plan *plan = fixture_plan(&work, rows, 1, false);
        struct draw_style style = {.wrong_side = side == 1, .cell_mm = 4.5};
        const struct sheet *sheet;

        plan->piece.bands[0].catches = fixture_catches(&work, catches, 2);
        plan->piece.bands[0].outer = fixture_catches(&work, NULL, 0);
        sheet = draw_band(&work, plan, &plan->piece.bands[0], &style);
        CU_ASSERT_EQUAL(lines_of(sheet, side == 0 ? "catches of slate" : "ties in cream"),
                        side == 0 ? 1 + 1 : 1); /* and one in the legend */
    }
    arena_destroy(work.arena);
}

/* Flat, three repeats: slate's float comes in from the right of the repeat, which it cannot in the
 * one beside the right edge; there it is caught behind stitch 4 instead. By hand. */
static void left_out_beside_an_edge_is_marked(void)
{
    static const char *const rows[] = {"x......", NULL};
    static const struct fixture_catch inner[] = {{1, 3, FIXTURE_SLATE}, {1, 5, FIXTURE_SLATE}};
    static const struct fixture_catch outer[] = {{1, 4, FIXTURE_SLATE}};
    struct work work = fixture_work();
    struct plan *plan = fixture_plan(&work, rows, 3, false);
    struct draw_style style = {.cell_mm = 4.5};
    const struct sheet *sheet;

    plan->piece.bands[0].catches = fixture_catches(&work, inner, 2);
    plan->piece.bands[0].outer = fixture_catches(&work, outer, 1);
    sheet = draw_band(&work, plan, &plan->piece.bands[0], &style);
    CU_ASSERT_EQUAL(lines_of(sheet, "catches of slate"), 0);
    CU_ASSERT_EQUAL(lines_of(sheet, "catches of slate left out at an edge"), 2 + 1); /* legend */
    CU_ASSERT_EQUAL(lines_of(sheet, "catches of slate at an edge"), 1 + 1);
    CU_ASSERT_EQUAL(lines_of(sheet, "slits"), 2);
    CU_ASSERT_EQUAL(lines_of(sheet, "which edge"), 3);
    arena_destroy(work.arena);
}

static const struct sheet_item *first_of(const struct sheet *sheet, const char *label)
{
    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        if (is_named(item, label) && item->count > 1)
            return item;
    return NULL;
}

/* Slate lies behind 6 cream stitches, cream behind 3 of slate, both too long to leave. The tie of
 * slate ends on it, and both its ends are on the same side of where cream lies. */
static void long_strands_are_told_apart(void)
{
    static const char *const rows[] = {"xxx......", NULL};
    static const struct fixture_catch catches[] = {{1, 3, FIXTURE_SLATE}};
    struct work work = fixture_work();
    struct plan *plan = fixture_plan(&work, rows, 2, true);
    struct draw_style style = {.wrong_side = true, .cell_mm = 4.5};
    const struct sheet_item *cream, *slate, *tie;
    double cream_y = 0, slate_y = 0;
    const struct sheet *sheet;

    plan->piece.bands[0].leave_sts = 2;
    plan->piece.bands[0].ncolours = 2;
    plan->piece.bands[0].colours = arena_alloc(work.arena, 2, sizeof(struct plan_colour));
    plan->piece.bands[0].colours[0].yarn = FIXTURE_CREAM;
    plan->piece.bands[0].colours[1].yarn = FIXTURE_SLATE;
    plan->piece.bands[0].catches = fixture_catches(&work, catches, 1);
    sheet = draw_band(&work, plan, plan->piece.bands, &style);
    cream = first_of(sheet, "long strands of cream");
    slate = first_of(sheet, "long strands of slate");
    tie = first_of(sheet, "ties in cream");
    CU_ASSERT_FATAL(cream && slate && tie);
    CU_ASSERT_TRUE(fabs(cream->dash_mm - slate->dash_mm) > 0.5);
    for (size_t i = 0; i < cream->count; i++) /* at rest it is highest */
        cream_y = i == 0 ? cream->point[i].y_mm : fmin(cream_y, cream->point[i].y_mm);
    for (size_t i = 0; i < slate->count; i++) /* and slate lowest */
        slate_y = fmax(slate_y, slate->point[i].y_mm);
    CU_ASSERT_TRUE(cream_y < slate_y);
    CU_ASSERT_TRUE(tie->point[0].y_mm > cream_y + 0.2 && tie->point[1].y_mm > cream_y + 0.2);
    CU_ASSERT_DOUBLE_EQUAL(tie->point[1].y_mm, slate_y, 0.5);
    arena_destroy(work.arena);
}

static void what_cannot_be_drawn_is_seen(void)
{
    struct work work = fixture_work();
    struct sheet *sheet = sheet_create(&work);
    struct sheet_item *path = sheet_add_path(sheet, (struct sheet_shade){1, 2, 3}, 0.3);

    sheet_move(sheet, path, 2.385, 3);
    CU_ASSERT_TRUE(sheet_is_sound(sheet));
    sheet_line(sheet, path, nan(""), 3);
    CU_ASSERT_FALSE(sheet_is_sound(sheet));
    arena_destroy(work.arena);
}

static void svg_of_a_run_is_one_path(void)
{
    struct work work = fixture_work();
    struct sheet *sheet = sheet_create(&work);
    struct sheet_item *cells = sheet_add_cells(sheet, 7.5, 9.25, 4.5, 3.6,
                                               (struct sheet_shade){16, 32, 255});
    struct text text = text_create(work.arena);

    sheet->title = "a < b & c";
    sheet_run(sheet, cells, 3, 2, 4);
    sheet_run(sheet, cells, 12, 2, 1);
    sheet_write_svg(sheet, &text);
    CU_ASSERT_PTR_NOT_NULL(strstr(text.bytes, "d=\"M3 3v-1h4v1h5v-1h1v1\""));
    CU_ASSERT_PTR_NOT_NULL(strstr(text.bytes, "fill=\"#1020ff\""));
    CU_ASSERT_PTR_NOT_NULL(strstr(text.bytes, "<title>a &lt; b &amp; c</title>"));
    arena_destroy(work.arena);
}

/* --- SVG read again -------------------------------------------------------------------- */

enum { SIDE = 12 };

/* Fill what path data of M, h and v enclose, each part closed: a cell is within where the walls
 * at its left do not cancel out (SVG 1.1, 11.3: nonzero). Only full walls of one cell occur. */
static void fill_cells(char *data, int winding[SIDE][SIDE])
{
    long x = 0, y = 0;

    while (*data && *data != '"') {
        char what = *data++;
        long value = strtol(data, &data, 10);

        if (what == 'M') {
            x = value;
            y = strtol(data, &data, 10);
        } else if (what == 'h') {
            x += value;
        } else {
            CU_ASSERT_FATAL(what == 'v' && (value == 1 || value == -1));
            for (long column = x; column < SIDE; column++)
                winding[value > 0 ? y : y - 1][column] += (int)value;
            y += value;
        }
    }
}

/* Five millimetres all round, from before the first of the drawing to behind its last. */
static void svg_has_room_all_round(void)
{
    struct work work = fixture_work();
    struct sheet *sheet = sheet_create(&work);
    struct text out = text_create(work.arena);

    sheet->width_mm = 23.85;
    sheet->height_mm = 17;
    sheet_write_svg(sheet, &out);
    CU_ASSERT_PTR_NOT_NULL(strstr(out.bytes, "width=\"33.85mm\" height=\"27mm\""));
    CU_ASSERT_PTR_NOT_NULL(strstr(out.bytes, "viewBox=\"-5 -5 33.85 27\""));
    arena_destroy(work.arena);
}

static void svg_read_again_is_the_same_cells(void)
{
    struct work work = fixture_work();
    struct sheet *sheet = sheet_create(&work);
    struct sheet_item *cells =
        sheet_add_cells(sheet, 0, 0, 4.5, 3.6, (struct sheet_shade){16, 32, 255});
    struct text text = text_create(work.arena);
    int winding[SIDE][SIDE] = {{0}}, wanted[SIDE][SIDE] = {{0}};

    for (int row = SIDE - 1; row >= 0; row--)
        for (int column = 0, run; column < SIDE; column += run) {
            run = 1 + (row * 5 + column * 7) % 3;
            run = column + run > SIDE ? SIDE - column : run;
            if ((row * 11 + column * 3) % 4 < 2) {
                sheet_run(sheet, cells, column, row, run);
                for (int i = 0; i < run; i++)
                    wanted[row][column + i] = 1;
            }
        }
    sheet_write_svg(sheet, &text);
    fill_cells(strstr(text.bytes, " d=\"") + 4, winding);
    for (int row = 0; row < SIDE; row++)
        for (int column = 0; column < SIDE; column++)
            CU_ASSERT_EQUAL(winding[row][column] != 0, wanted[row][column]);
    arena_destroy(work.arena);
}

/* Points by hand, in hundredths: 1.00 2.00, right 3.5, down .25; then a box and a slanted line. */
static void svg_lines_are_relative(void)
{
    struct work work = fixture_work();
    struct sheet *sheet = sheet_create(&work);
    struct sheet_item *path = sheet_add_path(sheet, (struct sheet_shade){1, 2, 3}, 0.3);
    struct text text = text_create(work.arena);

    sheet_move(sheet, path, 1, 2);
    sheet_line(sheet, path, 4.5, 2);
    sheet_line(sheet, path, 4.5, 2.25);
    sheet_box(sheet, path, 2, 3, 1.5, 2.5);
    sheet_move(sheet, path, 2.5, 1);
    sheet_line(sheet, path, 2, 1.75);
    sheet_write_svg(sheet, &text);
    CU_ASSERT_PTR_NOT_NULL(
        strstr(text.bytes, "d=\"M100 200h350v25m-250 75h150v250h-150zm50-200l-50 75\""));
    arena_destroy(work.arena);
}

CU_TestInfo tests_draw[] = {
    {"areas are stitches", areas_are_stitches},
    {"marks are catches", marks_are_catches},
    {"stitches keep their shape", stitches_keep_their_shape},
    {"the wrong side is mirrored", wrong_side_is_mirrored},
    {"of one flat repeat only what is there", of_one_flat_repeat_only_what_is_there},
    {"what is left out beside an edge has a mark of its own", left_out_beside_an_edge_is_marked},
    {"long strands are told apart, and which a tie holds", long_strands_are_told_apart},
    {"what cannot be drawn is seen", what_cannot_be_drawn_is_seen},
    {"SVG: one path of all runs, words escaped", svg_of_a_run_is_one_path},
    {"SVG read again is the same cells", svg_read_again_is_the_same_cells},
    {"SVG: room all round", svg_has_room_all_round},
    {"SVG: lines from point to point", svg_lines_are_relative},
    CU_TEST_INFO_NULL,
};
