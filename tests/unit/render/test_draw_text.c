/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Charts in characters against charts written by hand: no expectation here was printed by the
 * program. The small chart is that of test_draw.c.
 */
#include <CUnit/Basic.h>
#include <string.h>

#include "base/arena.h"
#include "fixture_plan.h"
#include "fixture_work.h"
#include "render/draw/text.h"

static struct plan *marked_plan(struct work *work, const char *const *rows, int repeats, bool round)
{
    static const char *const marks[] = {".", "x", "o"};
    static const unsigned char shades[][3] = {{240, 226, 189}, {40, 48, 58}, {200, 90, 70}};
    struct plan *plan = fixture_plan(work, rows, repeats, round);

    for (int i = 0; i < FIXTURE_YARNS; i++) {
        plan->piece.yarns[i].mark = marks[i];
        memcpy(plan->piece.yarns[i].rgb, shades[i], 3);
    }
    return plan;
}

static struct plan *small_plan(struct work *work)
{
    static const char *const rows[] = {"..x.", "o...", "...x", NULL};
    static const struct fixture_catch catches[] = {
        {1, 2, FIXTURE_SLATE}, {1, 3, FIXTURE_SLATE}, {3, 2, FIXTURE_CREAM}};
    struct plan *plan = marked_plan(work, rows, 3, true);

    plan->piece.bands[0].catches = fixture_catches(work, catches, 3);
    plan->piece.bands[0].leave_sts = 5;
    return plan;
}

static const char *drawn(struct work *work, const struct plan *plan, struct draw_text_style style)
{
    struct text text = text_create(work->arena);

    draw_band_text(work, plan, &plan->piece.bands[0], &style, &text);
    return text.bytes;
}

static void a_round_of_two_yarns_and_one_sewn_on(void)
{
    struct work work = fixture_work();

    CU_ASSERT_STRING_EQUAL(drawn(&work, small_plan(&work), (struct draw_text_style){.width = 80}),
                           "\n"
                           "Band ripple, right side\n"
                           "4 stitches by 3 rounds, worked 3 times round.\n"
                           "Read every round from right to left, from the bottom up.\n"
                           "\n"
                           "  +---------+\n"
                           "  | . . x.. | 3\n"
                           "  | o . . . | 2\n"
                           "  | . .x.xx | 1\n"
                           "  +---------+\n"
                           "          1\n"
                           "\n"
                           "  .   cream\n"
                           "  x   slate\n"
                           "  o   coral, sewn on afterwards; knit cream there\n"
                           "  x.  catch cream behind this stitch\n"
                           "  .x  catch slate behind this stitch\n");
    arena_destroy(work.arena);
}

/* Row 1: slate passes behind the three cream stitches, two of which catch it. */
static void the_wrong_side_is_mirrored(void)
{
    struct work work = fixture_work();
    struct plan *plan = small_plan(&work);
    const char *text = drawn(&work, plan, (struct draw_text_style){.width = 80, .wrong_side = true});

    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\n3 | . x.. . |\n"
                                        "2 | . . . . |\n"
                                        "1 | x .x.x. |\n"
                                        "  +---------+\n"
                                        "    1\n"));
    CU_ASSERT_PTR_NULL(strstr(text, "too long"));
    CU_ASSERT_PTR_NULL(strstr(text, "coral"));
    plan->piece.bands[0].leave_sts = 2; /* a span of three is too long now */
    text = drawn(&work, plan, (struct draw_text_style){.width = 80, .wrong_side = true});
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\n1 | x .x.x.-|\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "   -  a strand over 2 stitches, too long to leave, passes "
                                        "behind it\n"));
    arena_destroy(work.arena);
}

/* Whole row from the right: side 1, repeat 2-4, repeat 5-7, side 8. */
static void flat_with_sides_edges_and_two_behind_one(void)
{
    static const char *const rows[] = {"...", ".x.", NULL}, *const left[] = {".", "x", NULL},
                             *const right[] = {"x", ".", NULL};
    static const struct fixture_catch inner[] = {{1, 3, FIXTURE_CREAM}, {1, 3, FIXTURE_SLATE}};
    static const struct fixture_catch outer[] = {{2, 3, FIXTURE_SLATE}};
    struct work work = fixture_work();
    struct plan *plan = marked_plan(&work, rows, 2, false);
    struct plan_band *band = &plan->piece.bands[0];
    const char *text;

    band->left = band->left_knitted = fixture_grid(&work, left);
    band->right = band->right_knitted = fixture_grid(&work, right);
    band->side_sts = 2;
    band->catches = fixture_catches(&work, inner, 2);
    band->outer = fixture_catches(&work, outer, 1);
    text = drawn(&work, plan, (struct draw_text_style){.width = 80});
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\n    +-------+\n"
                                        "2 . | . .'. | x\n"
                                        "  x | .+x . | .  1\n"
                                        "    +-------+\n"
                                        "  1       1   1\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "  Row 1: behind stitch 3 cream and slate (not beside the left edge).\n"
                                        "  Row 2: behind stitch 2 slate (right edge only).\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "  Beside an edge no strand comes in")); /* slate comes over the join */
    /* mirrored, in a window for one side stitch alone */
    text = drawn(&work, plan, (struct draw_text_style){.width = 12, .wrong_side = true});
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\nSide\nstitches at\nthe left"));
    CU_ASSERT_TRUE(strstr(text, "the left") < strstr(text, "the right"));
    arena_destroy(work.arena);
}

static int widest_line(const char *text)
{
    int widest = 0, columns = 0;

    for (; *text; text++) {
        columns = *text == '\n' ? 0 : columns + 1;
        widest = columns > widest ? columns : widest;
    }
    return widest;
}

/* Of 40 columns a row's number takes 2 at each side; 10 stitches with the lines take 26, 20 take
 * 48, and the 14 that are left 36. */
static void a_wide_chart_stands_in_panels(void)
{
    static const char *const rows[] = {"....xxxx.....x..........", NULL};
    struct work work = fixture_work();
    const char *text = drawn(&work, marked_plan(&work, rows, 3, true),
                             (struct draw_text_style){.width = 40});

    CU_ASSERT(widest_line(text) <= 40);
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "Stitches 1-10\n"
                                        "  ------------------------+\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "  : . . . . .   . . . . . | 1\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "   10           5       1\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "Stitches 11-24\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "  | . . . . : x x x x .   . . . . x : 1\n"));
    arena_destroy(work.arena);
}

/* A yarn without a mark has a letter of its name that no mark has taken. */
static void marks_are_found_where_none_is(void)
{
    struct work work = fixture_work();
    struct plan *plan = small_plan(&work);

    plan->piece.yarns[FIXTURE_CREAM].mark = "s";
    plan->piece.yarns[FIXTURE_SLATE].mark = ""; /* s of slate is cream's */
    CU_ASSERT_PTR_NOT_NULL(strstr(drawn(&work, plan, (struct draw_text_style){.width = 80}),
                                  "  | s slsll | 1\n"));
    arena_destroy(work.arena);
}

static void no_stitch_is_left_empty(void)
{
    static const char *const rows[] = {".-x", "xx.", NULL};
    struct work work = fixture_work();
    const char *text = drawn(&work, marked_plan(&work, rows, 2, true),
                             (struct draw_text_style){.width = 80});

    CU_ASSERT_PTR_NOT_NULL(strstr(text, "  | .   x | 2\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "no stitch: pass over it\n"));
    arena_destroy(work.arena);
}

/* Black on the light shade, white on the dark one; nothing left on at the end of a line. */
static void colours_stand_on_their_shades(void)
{
    struct work work = fixture_work();
    const char *text = drawn(&work, small_plan(&work),
                             (struct draw_text_style){.width = 80, .colour = true, .true_colour = true});
    const char *on = NULL;

    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\033[38;5;16;48;2;240;226;189m. "));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\033[38;5;231;48;2;40;48;58mx"));
    for (const char *at = text; *at; at++) {
        if (*at == '\033')
            on = strncmp(at, "\033[0m", 4) == 0 ? NULL : at;
        if (*at == '\n')
            CU_ASSERT_PTR_NULL_FATAL(on);
    }
    arena_destroy(work.arena);
}

/* Beside side stitches too: a number is no part of them. */
static void numbers_are_in_no_colour(void)
{
    static const char *const rows[] = {"x.", NULL}, *const right[] = {".", NULL};
    struct work work = fixture_work();
    struct plan *plan = marked_plan(&work, rows, 2, false);
    struct plan_band *band = &plan->piece.bands[0];

    band->right = band->right_knitted = fixture_grid(&work, right);
    band->side_sts = 1;
    CU_ASSERT_PTR_NOT_NULL(strstr(drawn(&work, plan, (struct draw_text_style){.width = 80, .colour = true}),
                                  ". \033[0m 1\n"));
    arena_destroy(work.arena);
}

/* Codes counted from xterm's steps 0, 95, 135, 175, 215, 255 and greys 8, 18 ... 238 by hand. */
static void nearest_of_256(void)
{
    static const struct {
        unsigned char rgb[3];
        int code;
    } cases[] = {{{175, 0, 0}, 16 + 36 * 3},
                 {{95, 135, 215}, 16 + 36 * 1 + 6 * 2 + 4},
                 {{254, 255, 255}, 231},
                 {{58, 58, 58}, 232 + 5},
                 {{134, 174, 1}, 16 + 36 * 2 + 6 * 3}};

    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        CU_ASSERT_EQUAL(draw_text_nearest(cases[i].rgb), cases[i].code);
}

/* In place of the catches: the number of the change behind its stitch. */
static void stitches_to_change_have_a_number(void)
{
    static const struct recolour_cell cells[] = {{0, 1, FIXTURE_CREAM, FIXTURE_SLATE},
                                                      {0, 3, FIXTURE_CREAM, FIXTURE_SLATE},
                                                      {2, 0, FIXTURE_CREAM, FIXTURE_SLATE}};
    struct work work = fixture_work();
    struct plan *plan = small_plan(&work);
    struct plan_recolours *found = &plan->piece.bands[0].recolours;
    const char *text;

    found->nones = 2;
    found->one[0] = (struct plan_recolour){.cells = cells, .ncells = 2, .saved_piece = 6};
    found->one[1] = (struct plan_recolour){.cells = cells + 2, .ncells = 1, .saved_piece = 3};
    text = drawn(&work, plan, (struct draw_text_style){.width = 80, .changes = true});
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "  +---------+\n"
                                        "  | . . x .2| 3\n"
                                        "  | o . . . | 2\n"
                                        "  | .1. .1x | 1\n"
                                        "  +---------+\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\n   1  Round 1: make the 2nd stitch of each repeat slate (and its "
                                        "partner, the"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "\n   2  Round 3: make the 1st stitch of each repeat slate: "));
    CU_ASSERT_PTR_NULL(strstr(text, "catch cream behind"));
    plan->piece.yarns[FIXTURE_SLATE].mark = "1"; /* then letters */
    text = drawn(&work, plan, (struct draw_text_style){.width = 80, .changes = true});
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "  | .A. .A1 | 1\n"));
    arena_destroy(work.arena);
}

CU_TestInfo tests_draw_text[] = {
    {"a round of two yarns and one sewn on", a_round_of_two_yarns_and_one_sewn_on},
    {"the wrong side is mirrored", the_wrong_side_is_mirrored},
    {"flat: sides, edges, two strands behind one stitch", flat_with_sides_edges_and_two_behind_one},
    {"a wide chart stands in panels of tens", a_wide_chart_stands_in_panels},
    {"marks are found where none is given", marks_are_found_where_none_is},
    {"no stitch is left empty", no_stitch_is_left_empty},
    {"colours: shades, ink, reset at line ends", colours_stand_on_their_shades},
    {"colours: not on the numbers", numbers_are_in_no_colour},
    {"the nearest of 256 colours", nearest_of_256},
    {"stitches to change have a number", stitches_to_change_have_a_number},
    CU_TEST_INFO_NULL,
};
