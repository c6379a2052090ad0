/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The drawing of the yarn: bars cut at the right places, as many balls as are bought, the last one
 * filled to the part that is used. Areas are measured on the sheet, by the sum of cross products.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "fixture_plan.h"
#include "render/draw/draw.h"

extern CU_TestInfo tests_draw_yarn[];

static double area_of(const struct sheet_item *path)
{
    double twice = 0;
    size_t n = 0;

    while (n < path->count && path->point[n].what != 'Z')
        n++;
    for (size_t i = 0; i < n; i++) {
        const struct sheet_point *a = &path->point[i], *b = &path->point[(i + 1) % n];

        twice += a->x_mm * b->y_mm - b->x_mm * a->y_mm;
    }
    return fabs(twice) / 2;
}

/* The how-many-th item of that label, from 0; NULL: there are fewer. */
static const struct sheet_item *item_of(const struct sheet *sheet, const char *label, int nth)
{
    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        if (item->label && strcmp(item->label, label) == 0 && nth-- == 0)
            return item;
    return NULL;
}

static int count_of(const struct sheet *sheet, const char *label)
{
    int n = 0;

    while (item_of(sheet, label, n))
        n++;
    return n;
}

/* A plan by hand of three yarns; slate is made to need 2.3 balls of 40 m, cream all of one of 160 m. */
static struct plan *plan_by_hand(struct work *work, struct sheet **sheets)
{
    struct plan *plan = fixture_ripple(work);
    struct plan_yarn *cream = &plan->piece.yarns[FIXTURE_CREAM];
    struct plan_yarn *slate = &plan->piece.yarns[FIXTURE_SLATE];

    cream->band_m = cream->ball_m = 160;
    cream->buy = (struct ball_count){.balls = 1, .need_m = 160, .last_used = 1};
    slate->band_m = slate->ball_m = 40;
    slate->buy = (struct ball_count){.balls = 3, .need_m = 92, .left_m = 28, .last_used = 0.3};
    CU_ASSERT_EQUAL_FATAL(draw_yarns(work, plan, sheets), 3);
    return plan;
}

/* By hand: a quarter of the length is a quarter of the area; 0.3 of a ball 0.3 of its area. */
static void balls_to_scale(void)
{
    struct work work = fixture_plan_work();
    struct sheet *sheets[FIXTURE_YARNS];
    double large, small;

    plan_by_hand(&work, sheets);
    CU_ASSERT_EQUAL(count_of(sheets[FIXTURE_CREAM], "a ball"), 1);
    CU_ASSERT_EQUAL_FATAL(count_of(sheets[FIXTURE_SLATE], "a ball"), 3);
    large = area_of(item_of(sheets[FIXTURE_CREAM], "a ball", 0));
    small = area_of(item_of(sheets[FIXTURE_SLATE], "a ball", 0));
    CU_ASSERT_DOUBLE_EQUAL(small / large, 0.25, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(area_of(item_of(sheets[FIXTURE_CREAM], "what is needed of it", 0)) / large, 1,
                           1e-6);
    CU_ASSERT_DOUBLE_EQUAL(area_of(item_of(sheets[FIXTURE_SLATE], "what is needed of it", 1)) / small, 1,
                           1e-6);
    CU_ASSERT_DOUBLE_EQUAL(area_of(item_of(sheets[FIXTURE_SLATE], "what is needed of it", 2)) / small, 0.3,
                           0.002);
    for (int i = 0; i < FIXTURE_YARNS; i++)
        CU_ASSERT_TRUE(sheet_is_sound(sheets[i]));
    arena_destroy(work.arena);
}

static bool says(const struct sheet *sheet, const char *words)
{
    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        if (item->words && strstr(item->words, words))
            return true;
    return false;
}

/* By hand: 50 m in hand in balls of 40 are one and a quarter of one, all used, before the three that are
 * bought; of 80 m of the other 60 are used, three quarters; 10 m where no ball is known are one of 10. */
static void in_hand(void)
{
    struct work work = fixture_plan_work();
    struct sheet *sheets[FIXTURE_YARNS];
    struct plan *plan = plan_by_hand(&work, sheets);
    struct plan_yarn *cream = &plan->piece.yarns[FIXTURE_CREAM];
    struct plan_yarn *slate = &plan->piece.yarns[FIXTURE_SLATE];
    struct plan_yarn *coral = &plan->piece.yarns[FIXTURE_CORAL];
    const char *filled = "what is needed of it";
    double large, small;

    CU_ASSERT_FALSE(says(sheets[FIXTURE_CREAM], "inged"));
    CU_ASSERT_TRUE(says(sheets[FIXTURE_CREAM], "yd (160 m): ")); /* one, not "each" */
    CU_ASSERT_TRUE(says(sheets[FIXTURE_SLATE], "yd (40 m) each: "));
    cream->have_m = 80;
    cream->have_used_m = 60;
    cream->have_enough = true;
    cream->buy = (struct ball_count){.balls = 0};
    slate->have_m = slate->have_used_m = 50;
    coral->has_ball = false;
    coral->have_m = coral->have_used_m = 10;
    coral->buy = (struct ball_count){.balls = 0};
    CU_ASSERT_EQUAL_FATAL(draw_yarns(&work, plan, sheets), 3);
    CU_ASSERT_EQUAL_FATAL(count_of(sheets[FIXTURE_CREAM], "in hand"), 1);
    CU_ASSERT_EQUAL_FATAL(count_of(sheets[FIXTURE_SLATE], "in hand"), 2);
    CU_ASSERT_EQUAL_FATAL(count_of(sheets[FIXTURE_SLATE], "a ball"), 5);
    CU_ASSERT_EQUAL_FATAL(count_of(sheets[FIXTURE_CORAL], "in hand"), 1);
    large = area_of(item_of(sheets[FIXTURE_CREAM], "a ball", 0)); /* 80 m, the longest */
    small = area_of(item_of(sheets[FIXTURE_SLATE], "a ball", 0));
    CU_ASSERT_DOUBLE_EQUAL(small / large, 0.5, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(area_of(item_of(sheets[FIXTURE_SLATE], "a ball", 1)) / small, 0.25, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(area_of(item_of(sheets[FIXTURE_SLATE], "a ball", 2)) / small, 1, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(area_of(item_of(sheets[FIXTURE_CORAL], "a ball", 0)) / large, 0.125, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(area_of(item_of(sheets[FIXTURE_CREAM], filled, 0)) / large, 0.75, 0.002);
    CU_ASSERT_TRUE(says(sheets[FIXTURE_CREAM], "Ringed: in hand."));
    CU_ASSERT_TRUE(says(sheets[FIXTURE_CREAM], "(80 m) in hand (ringed) is enough with"));
    CU_ASSERT_TRUE(says(sheets[FIXTURE_CREAM], "; nothing to buy."));
    CU_ASSERT_TRUE(says(sheets[FIXTURE_SLATE], "(50 m) in hand (ringed), used first."));
    CU_ASSERT_TRUE(says(sheets[FIXTURE_SLATE], "(92 m) more with"));
    CU_ASSERT_TRUE(says(sheets[FIXTURE_CORAL], "(10 m) in hand (ringed), used first; it falls short by"));
    for (int i = 0; i < FIXTURE_YARNS; i++)
        CU_ASSERT_TRUE(sheet_is_sound(sheets[i]));
    arena_destroy(work.arena);
}

/* Strands and hatching stay inside what they lie on. */
static void hatching_inside(void)
{
    struct work work = fixture_plan_work();
    struct sheet *sheets[FIXTURE_YARNS];
    const struct sheet_item *bar, *floats;
    struct plan *plan = plan_by_hand(&work, sheets);
    const struct plan_yarn *slate = &plan->piece.yarns[FIXTURE_SLATE];
    double left, width;

    bar = item_of(sheets[FIXTURE_SLATE], "all of a yarn", 0);
    floats = item_of(sheets[FIXTURE_SLATE], "floats of the bands", 0);
    CU_ASSERT_PTR_NOT_NULL_FATAL(bar);
    CU_ASSERT_PTR_NOT_NULL_FATAL(floats);
    width = bar->point[1].x_mm - bar->point[0].x_mm;
    left = bar->point[0].x_mm + width * slate->use_m[USE_STITCHES] / slate->length_m;
    CU_ASSERT_TRUE(width > 100);
    for (size_t i = 0; i < floats->count; i++) {
        CU_ASSERT_TRUE(floats->point[i].x_mm >= left - 1e-6);
        CU_ASSERT_TRUE(floats->point[i].x_mm <= left + width * slate->use_m[USE_FLOATS] / slate->length_m + 1e-6);
        CU_ASSERT_TRUE(floats->point[i].y_mm >= bar->point[0].y_mm);
    }
    arena_destroy(work.arena);
}

/* A blanket of thousands of balls does not become thousands of circles. */
static void many_balls(void)
{
    struct work work = fixture_plan_work();
    struct sheet *sheets[FIXTURE_YARNS];
    struct plan *plan = fixture_ripple(&work);

    plan->piece.yarns[FIXTURE_CREAM].buy =
        (struct ball_count){.balls = 238500, .need_m = 1e6, .last_used = 0.5};
    CU_ASSERT_EQUAL_FATAL(draw_yarns(&work, plan, sheets), 3);
    CU_ASSERT_EQUAL(count_of(sheets[FIXTURE_CREAM], "a ball"), 40);
    CU_ASSERT_TRUE(sheets[FIXTURE_CREAM]->height_mm < SHEET_PAGE_HEIGHT_MM);
    CU_ASSERT_TRUE(sheets[FIXTURE_CREAM]->width_mm <= SHEET_PAGE_WIDTH_MM);
    arena_destroy(work.arena);
}

CU_TestInfo tests_draw_yarn[] = {
    {"balls to scale, the last one part filled", balls_to_scale},
    {"what is in hand, ringed", in_hand},
    {"hatching inside its use", hatching_inside},
    {"very many balls", many_balls},
    CU_TEST_INFO_NULL,
};
