/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A measure and what is on the needle: edges and seam, sizes, edges at a steek.
 * Figures worked by hand from 5 stitches to the inch where nothing else is said; invented.
 */
#include <math.h>

#include "fixture_measures.h"
#include "words/words.h"

extern CU_TestInfo tests_measures[];

/* --- edges ---------------------------------------------------------------------------------- */

/* 10 in are 50 stitches with 16 at the edges: the band 4 x 9 and 16 are 52, the back 50. */
static void a_width_counts_the_edges(void)
{
    static const char *const backs[] = {"width = 10 in", "stitches on needle = 50"};

    for (int i = 0; i < 2; i++) {
        struct work work = work_new();
        const struct plan *plan = good_plan(
            &work, arena_printf(work.arena,
                                FLAT "[swatch plain]\n" SWATCH("flat")
                                     "[measure]\nwidth = 10 in\n[band front]\nchart = slant-4.chart\n"
                                     "[plain back]\nyarn = pale\nlength = 5 in\n%s\n"
                                     "[edges]\nselvedge = 8\n" YARNS,
                                backs[i]));

        CU_ASSERT_EQUAL(plan->piece.bands[0].stitches_on_needle, 52);
        CU_ASSERT_EQUAL(step_of(plan, "back")->on_needle, 50);
        CU_ASSERT_EQUAL(step_of(plan, "back")->to_sts, 34);
        CU_ASSERT_EQUAL_FATAL(plan->piece.nborders, 1);
        CU_ASSERT_FALSE(plan->piece.borders[0].asked); /* both are asked the same: no taper */
        CU_ASSERT_EQUAL(plan->piece.borders[0].plain_sts, 50);
        CU_ASSERT_EQUAL(plan->piece.borders[0].band_sts, 52);
        CU_ASSERT_DOUBLE_EQUAL(plan->piece.borders[0].band_in, plan->piece.bands[0].finished_in, 1e-12);
        CU_ASSERT_DOUBLE_EQUAL(plan->piece.borders[0].step_in, -0.4, 1e-12);
        CU_ASSERT_EQUAL(plan->piece.borders[0].plain_fit_on_needle, 52);
        says(report_of(&work, plan), "(stitches on needle = 52)");
        fixture_end(&work);
    }
}

/* 107 on the needle are 100 and a steek of 7; what the border names has the steek on it, too. */
static void a_steek_is_on_the_needle(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work, ROUND PLAIN_SWATCH("18, 18") "[measure]\naround = 20 in\n[band front]\nchart = slant-4.chart\n"
               "[plain top]\nyarn = pale\nlength = 5 in\nstitches on needle = 107\n"
               "[edges]\nsteek = 7\n" YARNS);

    CU_ASSERT_EQUAL(step_of(plan, "top")->to_sts, 100);
    CU_ASSERT_EQUAL(step_of(plan, "top")->on_needle, 107);
    CU_ASSERT_EQUAL_FATAL(plan->piece.nborders, 1);
    CU_ASSERT_EQUAL(plan->piece.borders[0].plain_fit_sts, 90); /* 20 in of 4 1/2 */
    CU_ASSERT_EQUAL(plan->piece.borders[0].plain_fit_on_needle, 97);
    fixture_end(&work);
}

static void edges_and_nothing_else_is_refused(void)
{
    struct work work = work_new();

    CU_ASSERT_PTR_NULL(plan_of(&work, FLAT "[measure]\nwidth = 10 in\n[band front]\nchart = slant-4.chart\n"
                                           "[plain back]\nyarn = pale\nlength = 5 in\n"
                                           "stitches on needle = 16\n[edges]\nselvedge = 8\n" YARNS));
    says(unfolded(&work, fixture_printed(&work, false)), "the edges alone are 16");
    fixture_end(&work);
}

/* --- a seam --------------------------------------------------------------------------------- */

#define CUSHION(width, edges)                                                                       \
    FLAT "[measure]\nwidth = " width "\n[band front]\nchart = slant-4.chart\n[plain back]\n"           \
         "yarn = pale\nlength = 5 in\nstitches on needle = 50\n[edges]\n" edges "\n" YARNS

/* 36 and 34 of them are left: 7.2 in and 6.8 in. */
static void a_seam_takes_up_the_edges(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(&work, CUSHION("10 in", "selvedge = 8\nseam = 20 in"));

    CU_ASSERT_DOUBLE_EQUAL(plan->piece.bands[0].sewn_in, 7.2, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(step_of(plan, "back")->sewn_in, 6.8, 1e-12);
    CU_ASSERT_TRUE(has_note(plan, DIAG_SEWN_NARROW));
    says(report_of(&work, plan), "With width = 13 1/4 in under [measure] it would be 68 stitches on the "
                                 "needle, 10 3/8 in (26.4 cm) sewn up.");
    says(report_of(&work, plan), "6 3/4 in (17.3 cm), the edge stitches in the seam.");
    fixture_end(&work);
    /* and what it says is so: 13.25 in are 66.25 stitches, 4 x 13 and 16 are 68, 52 sewn up */
    work = work_new();
    plan = good_plan(&work, CUSHION("13 1/4 in", "selvedge = 8\nseam = 20 in"));
    CU_ASSERT_EQUAL(plan->piece.bands[0].stitches_on_needle, 68);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.bands[0].sewn_in, 10.4, 1e-12);
    fixture_end(&work);
    /* 10 in wanted by an inch of ease, or by a quarter: 13 1/5 in are 12 1/5 and 1, or 10.56 and a quarter of it */
    work = work_new();
    says(report_of(&work, good_plan(&work, CUSHION("9 in\nease = 1 in", "selvedge = 8\nseam = 20 in"))),
         "With width = 12 1/4 in under [measure] it would be 68 stitches on the needle");
    fixture_end(&work);
    work = work_new();
    says(report_of(&work, good_plan(&work, CUSHION("8 in\nease = 25 %", "selvedge = 8\nseam = 20 in"))),
         "With width = 10 5/8 in under [measure] it would be 68 stitches on the needle");
    fixture_end(&work);
    /* in centimetres 18.288 of 25.4 are left, 7.1 less as printed; 33.528 a millimetre up is 33.6 */
    work = work_new();
    plan = good_plan(&work, "[project]\nworked = flat\nunits = cm\n[swatch]\n" SWATCH("flat")
                     "[measure]\nwidth = 25.4 cm\n[band front]\nchart = slant-4.chart\n[edges]\nselvedge = 8\n"
                     "seam = 50 cm\n" YARNS);
    says(unfolded(&work, fixture_printed(&work, false)),
         "front is 18.3 cm (7 1/4 in) wide, 7.1 cm under the 25.4 cm (10 in) asked for");
    says(report_of(&work, plan), "With width = 33.6 cm under [measure]");
    fixture_end(&work);
}

/* 50 with an edge stitch each side; 52 are no nearer to a whole repeat of 4 than 50 of 48 + 2. Sewn up 48 are
 * left of 49 1/2: one stitch each side more makes 50. */
static void no_repeat_makes_up_for_one_stitch(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(&work, CUSHION("9.9 in", "selvedge = 1\nseam = 20 in"));

    CU_ASSERT_EQUAL(plan->piece.bands[0].stitches_on_needle, 50);
    says(report_of(&work, plan), "No whole repeats come nearer. Give its chart 2 side stitches more, 1 at each "
                                 "side, and write repeats = 12 under [band front], and it is 52 stitches on the needle, 10 in (25.4 cm) sewn up.");
    fixture_end(&work);
}

static void without_a_seam_nothing_is_taken_up(void)
{
    static const char *const edges[] = {CUSHION("10 in", "selvedge = 8"),
                                        CUSHION("10 in", "selvedge = 8\nseam = 0 in"),
                                        CUSHION("10 in", "seam = 20 in")};

    for (int i = 0; i < 3; i++) {
        struct work work = work_new();
        const struct plan *plan = good_plan(&work, edges[i]);

        CU_ASSERT_TRUE(plan->piece.bands[0].sewn_in <= 0.0);
        CU_ASSERT_FALSE(has_note(plan, DIAG_SEWN_NARROW));
        says_not(report_of(&work, plan), "sewn up");
        fixture_end(&work);
    }
}

/* --- sizes ----------------------------------------------------------------------------------- */

/* 20 in: 100 stitches, 25 x 4 and 8 x 12 = 96; 16 in: 80, 20 x 4 and 7 x 12 = 84, 5 % more. */
static void sizes_show_the_band_furthest_off(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work, ROUND "[measure]\naround = 20 in\nsizes = S 16 in, L 20 in\n[band lice]\n"
               "chart = slant-4.chart\n[band tips]\nchart = tip-12.chart\n" YARNS);
    const char *report = report_of(&work, plan);

    CU_ASSERT_EQUAL(plan->sizes[0].furthest, 1);
    CU_ASSERT_DOUBLE_EQUAL(plan->sizes[0].at.piece.bands[1].off_part, 0.05, 1e-12);
    says(report, "lice 80 stitches, 16 in (40.6 cm); tips 84 stitches, 16 3/4 in (42.7 cm), 5 % more than "
                 "wanted");
    says(report, "tips 96 stitches, 19 1/4 in (48.8 cm), 4 % less than wanted");
    fixture_end(&work);
}

/* 56 stitches are 5 x 11 and one, one column left out; 70 are 7 x 10, two. */
static void sizes_say_what_a_remedy_makes_of_the_chart(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work, "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 32, 32\nrows = 40, 40\n"
               "[measure]\naround = 8 in\nsizes = S 7 in, M 8 3/4 in\n[band one]\nchart = tip-12.chart\n"
               "remedy = trim\n" YARNS);
    const char *report = report_of(&work, plan);

    for (int i = 0; i < 2; i++) {
        const struct plan_band *band = plan->sizes[i].at.piece.bands;

        CU_ASSERT_PTR_NOT_NULL_FATAL(band->remedy);
        CU_ASSERT_TRUE(band->repeat_sts < 12);
        CU_ASSERT_EQUAL(band->stitches, band->repeats * band->repeat_sts);
        says(report, arena_printf(work.arena, " %dx%d ", band->repeats, band->repeat_sts));
        says(report, arena_printf(work.arena, "(%s; repeats of %d)", band->remedy->choice,
                                  band->repeat_sts));
    }
    fixture_end(&work);
}

/* 200 x 42/50 = 168 under 12 x 14 = 168; and 200 x 40/50 = 160 under 12 x 13 = 156: the band's, where hers
 * are alike; where hers differ, 202 and 200 x 12..., each keeps its own. */
static void a_part_stays_on_its_bands_stitches(void)
{
    static const char text[] =
        ROUND "[measure]\naround = 40.8 in\nsizes = S 32 in, M 40.8 in\n[plain body]\nyarn = pale\n"
        "length = 5 in\nstitches on needle = %d\n[band tips]\nchart = tip-12.chart\n" YARNS;

    for (int differs = 0; differs < 2; differs++) {
        struct work work = work_new();
        const struct plan *plan =
            good_plan(&work, arena_printf(work.arena, text, differs ? 202 : 204));
        const struct plan_piece *small = &plan->sizes[0].at.piece;

        CU_ASSERT_EQUAL(plan->piece.bands[0].stitches, 204);
        CU_ASSERT_EQUAL(small->bands[0].stitches, 156); /* 160 wanted; the body 160 or 158 */
        CU_ASSERT_EQUAL(small->cast_on.stitches, differs ? 158 : 156);
        fixture_end(&work);
    }
}

/* --- what is said of a child, of a number too large --------------------------------------------- */

static bool cautioned(const char *sizes, const char *rest, enum diag_code code)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work, arena_printf(work.arena, ROUND "[measure]\naround = 20 in\nsizes = %s\n[band one]\n"
                                              "chart = slant-4.chart\n%s" YARNS,
                            sizes, rest));
    bool has = has_note(plan, code);

    fixture_end(&work);
    return has;
}

static void a_childs_size_is_noticed(void)
{
    static const char *const children[] = {"Toddler 16 in", "child: 18 in", "age 4: 17 in", "6 years: 18 in",
                                           "18 months: 16 in", "Baby 14 in", "4-6 yrs: 17 in"};
    static const char *const others[] = {"S 16 in", "adult small: 18 in", "age 30: 20 in",
                                         "boyfriend 22 in", "size 4: 18 in"};

    for (size_t i = 0; i < sizeof children / sizeof *children; i++) {
        CU_ASSERT_TRUE(cautioned(children[i], "", DIAG_CHILD_UNSAID));
        CU_ASSERT_FALSE(cautioned(children[i], "[wearer]\nchild = yes\n", DIAG_CHILD_UNSAID));
        CU_ASSERT_FALSE(cautioned(children[i], "[float]\nleave up to = 3/4 in\n", DIAG_CHILD_UNSAID));
    }
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        CU_ASSERT_FALSE(cautioned(others[i], "", DIAG_CHILD_UNSAID));
}

static void measures_that_cannot_be_meant(void)
{
    CU_ASSERT_TRUE(cautioned("S 16 in, M 999 in", "", DIAG_MEASURE_UNUSUAL));
    CU_ASSERT_TRUE(cautioned("S 16 in", "around = 500 %\n", DIAG_MEASURE_UNUSUAL));
    CU_ASSERT_TRUE(cautioned("S 16 in", "around = 120 %\n", DIAG_MEASURE_UNUSUAL));
    CU_ASSERT_TRUE(cautioned("S 16 in", "around = 8 %\n", DIAG_MEASURE_UNUSUAL));
    CU_ASSERT_FALSE(cautioned("S 16 in", "around = 100 %\n", DIAG_MEASURE_UNUSUAL));
    CU_ASSERT_FALSE(cautioned("S 16 in", "around = 60 %\n", DIAG_MEASURE_UNUSUAL));
    CU_ASSERT_TRUE(cautioned("S 16 in", "[ladder]\nover = 1 in\nstitches = 8, 400\n", DIAG_GAUGE_UNUSUAL));
    CU_ASSERT_FALSE(cautioned("S 16 in", "[ladder]\nover = 1 in\nstitches = 8, 6\n", DIAG_GAUGE_UNUSUAL));
}

static void a_size_with_two_numbers_wants_a_colon(void)
{
    static const char *const refused[] = {"age 2 18 in", "6 months 18 in", "2-3 years 18 in"};
    static const char *const taken[] = {"S 8 1/2 in", "age 2: 18 in", "M 18 in"};

    for (int i = 0; i < 6; i++) {
        struct work work = work_new();
        bool good = plan_of(&work, arena_printf(work.arena,
                                                ROUND "[measure]\naround = 20 in\nsizes = %s\n[band one]\n"
                                                      "chart = slant-4.chart\n" YARNS,
                                                i < 3 ? refused[i] : taken[i - 3])) != NULL;

        CU_ASSERT_EQUAL(good, i >= 3);
        if (i < 3)
            says(unfolded(&work, fixture_printed(&work, false)),
                 "A name with a number in it ends in a colon");
        fixture_end(&work);
    }
}

/* --- edges at a steek ------------------------------------------------------------------------- */

/* Whole repeats begun with column `start`, and `more` columns: their own mirror image? */
static bool mirrors(const struct grid *grid, int repeats, int start, int more)
{
    int n = grid->ncols, all = repeats * n + more;

    for (int row = 0; row < grid->nrows; row++)
        for (int i = 0; i < all; i++)
            if (grid->cell[row * n + (start + i) % n] != grid->cell[row * n + (start + all - 1 - i) % n])
                return false;
    return true;
}

static void edges_at_a_steek(void)
{
    static const char *const charts[] = {"tip-12.chart", "dot-6.chart", "bud-8.chart", "plain.chart",
                                         "stripe.chart", "slant-4.chart", "ripple.chart"};

    for (size_t i = 0; i < sizeof charts / sizeof *charts; i++) {
        struct work work = work_new();
        const struct plan *plan = good_plan(
            &work, arena_printf(work.arena,
                                ROUND "[measure]\naround = 30 in\n[band one]\nchart = %s\n[edges]\n"
                                      "steek = 7\n" YARNS,
                                charts[i]));
        const struct plan_band *band = plan->piece.bands;
        const struct grid *grid = &band->knitted;
        int best = grid->ncols, start = -1;

        for (int more = grid->ncols / 2; more >= -grid->ncols / 2; more--)
            if (mirrors(grid, 2, 0, more) && (abs(more) < abs(best) || (more > 0 && more == -best)))
                best = more;
        for (int s = grid->ncols - 1; s >= 0; s--)
            if (mirrors(grid, 2, s, 0))
                start = s;
        CU_ASSERT_PTR_NOT_NULL_FATAL(band->fronts);
        CU_ASSERT_EQUAL(band->fronts->known, best < grid->ncols);
        if (!band->fronts->known)
            says(report_of(&work, plan), "edges the chart has no mirror line, so at the steek the two do not "
                                         "mirror each other. Where they are to, reverse the chart for the "
                                         "other front (common practice).");
        if (band->fronts->known) {
            CU_ASSERT_EQUAL(band->fronts->more_sts, best);
            CU_ASSERT_EQUAL(band->fronts->start, start);
        }
        fixture_end(&work);
    }
}

/* 148 is 37 fours and ends with purl 2; 150 ends as it begins, and is taken. */
static void a_rib_at_a_steek(void)
{
    static const struct {
        int rib, even;
    } cases[] = {{148, 150}, {150, 0}};

    for (int i = 0; i < 2; i++) {
        struct work work = work_new();
        const struct plan *plan = good_plan(
            &work, arena_printf(work.arena,
                                ROUND "[measure]\naround = 30 in\n[cast-on]\nrib = knit 2 purl 2, 9 rounds\n"
                                      "rib stitches = %d\n[band one]\nchart = tip-12.chart\n[edges]\n"
                                      "steek = 7\n" YARNS,
                                cases[i].rib));

        CU_ASSERT_EQUAL(plan->piece.cast_on.rib_sts, cases[i].rib);
        CU_ASSERT_EQUAL(plan->piece.cast_on.rib_even_sts, cases[i].even);
        fixture_end(&work);
    }
}

/* --- needles, start, words ---------------------------------------------------------------------- */

static void an_even_division_is_offered(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(&work, ROUND "[measure]\naround = 12 in\n[band one]\n"
                                                     "chart = tip-12.chart\nupwards = 3\n" YARNS);
    int uneven = 0;

    for (int i = 0; i < PLAN_NEEDLE_WAYS; i++) {
        const struct plan_needles *way = &plan->piece.bands[0].centre->needles[i];
        int far = 0, sum = 0, even_far = 0;

        for (int k = 0; k < way->needles; k++) {
            far |= abs(way->sts[k] * way->needles - 60) > 2 * way->needles;
            even_far |= abs(way->even_sts[k] * way->needles - 60) > 2 * way->needles;
            sum += way->even_sts[k];
        }
        CU_ASSERT_EQUAL(way->uneven, far);
        uneven += way->uneven;
        if (way->uneven) {
            CU_ASSERT_FALSE(even_far);
            CU_ASSERT_EQUAL(sum, 60);
            CU_ASSERT_TRUE(way->even_crosses.rows >= way->crosses.rows);
        }
    }
    CU_ASSERT_TRUE(uneven > 0);
    fixture_end(&work);
}

/* Every start tried: a jog less than that of the best only where a strand over it is too long. */
static void the_best_start_says_why(void)
{
    struct work work = work_new();
    const struct plan *plan = NULL;
    int decided = 0;

    CU_ASSERT_EQUAL_FATAL(run_plan(&work, "examples/pinewood-yoke/pinewood-yoke.ini", &plan), RUN_DONE);
    for (int i = 0; i < plan->piece.nbands; i++) {
        const struct plan_band *band = &plan->piece.bands[i];
        int jogs = band->centre->best[0].at.jog_rows;
        struct centre_start *starts = arena_alloc(work.arena, (size_t)band->knitted.ncols, sizeof *starts);
        bool fewer = false;

        centre_starts(&work, &band->knitted, band->upwards, starts);
        for (int start = 0; start < band->knitted.ncols; start++) {
            struct centre_start at = starts[start];

            if (at.jog_rows < jogs) {
                fewer = true;
                CU_ASSERT_TRUE(at.strand_sts > band->leave_sts);
            }
        }
        CU_ASSERT_EQUAL(band->centre->strand_decides, fewer);
        decided += fewer;
    }
    CU_ASSERT_TRUE(decided > 0 && decided < plan->piece.nbands);
    says(report_of(&work, plan), "best to knit: no strand over the start is too long");
    says(report_of(&work, plan), "is least seen (");
    fixture_end(&work);
}

/* 8.40 and 8.07: 8 3/8, 8 1/8 and 3/8 do not subtract; 8 3/8, 8 1/16 and 5/16 do. */
static void what_is_printed_subtracts(void)
{
    struct work work = work_new();
    struct plan plan = {.cm_first = false};
    static const struct words_style style = {.width = 80};
    struct page page = {&work, &plan, &style, NULL};
    int finer = 0;

    CU_ASSERT_EQUAL(words_step_apart(&page, 8.40, 8.07), WORDS_STEP_HALF);
    CU_ASSERT_STRING_EQUAL(words_untie(&page, words_length_step(&page, 8.07, WORDS_STEP_HALF)),
                           "8 1/16 in (20.5 cm)");
    CU_ASSERT_STRING_EQUAL(words_untie(&page, words_length_step(&page, 0.33, WORDS_STEP_HALF)),
                           "5/16 in (0.8 cm)");
    CU_ASSERT_STRING_EQUAL(words_untie(&page, words_length_step(&page, 8.5, WORDS_STEP)),
                           "8 1/2 in (21.6 cm)");
    for (int a = 700; a < 900; a += 3)
        for (int b = 700; b < 900; b += 7) {
            enum words_step step = words_step_apart(&page, a / 100.0, b / 100.0);
            double steps = step == WORDS_STEP ? 8 : step == WORDS_STEP_HALF ? 16 : 100;

            finer += step != WORDS_STEP;
            CU_ASSERT_EQUAL(llround(a / 100.0 * steps) - llround(b / 100.0 * steps),
                            llround((a - b) / 100.0 * steps));
        }
    CU_ASSERT_TRUE(finer > 0);
    fixture_end(&work);
}

/* 9 stitches an inch are the finest, and the only gauge at which a float of 9 is left: "9 down to 9". */
static void the_ladder_in_words(void)
{
    struct work work = work_new();
    const char *report = report_of(
        &work, good_plan(&work, "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 24, 24.1\n"
                                "rows = 32, 32\n[measure]\naround = 12 in\n[band one]\n"
                                "chart = tip-12.chart\n[ladder]\nover = 1 in\nstitches = 9, 6, 5\n" YARNS));

    says(report, " at 9 ");
    says_not(report, "9 down to 9");
    says(report, "The next heavier: 5 stitches to the inch"); /* 6 is hardly another than 6.01 */
    says(report, "Some are too long already; at 5 stitches to the inch (19.69 to 10 cm), Medium, and in "
                 "heavier yarn, they are longer still");
    fixture_end(&work);
}

/* 20 in: 96, 4 % off; 15 in: 75, 72 or 78 of 6, 4 %; 10 in: 50, 48, 4 %. One is named, the others with it. */
static void the_head_names_all_that_are_off(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work, ROUND "[measure]\naround = 20 in\n[band a]\nchart = tip-12.chart\n[band b]\n"
               "chart = dot-6.chart\naround = 75.5 %\n[band c]\nchart = slant-4.chart\naround = 60 %\n" YARNS);

    CU_ASSERT_DOUBLE_EQUAL(plan->piece.bands[0].off_part, -0.04, 1e-12);
    CU_ASSERT_TRUE(fabs(plan->piece.bands[1].off_part) > 0.02);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.bands[2].off_part, 0.0, 1e-12);
    says(report_of(&work, plan), arena_printf(work.arena, "Off as well: %s by ",
                                              fabs(plan->piece.bands[1].off_part) < 0.04 ? "b" : "a"));
    says_not(report_of(&work, plan), "c by ");
    fixture_end(&work);
}

static const char *refused(struct work *work, const char *head, const char *measure, const char *chart, int selvedge)
{
    CU_ASSERT_PTR_NULL(plan_of(work, arena_printf(work->arena, "%s[measure]\n%s\n[band one]\nchart = %s\n" YARNS
                                                  "[edges]\nselvedge = %d\n", head, measure, chart, selvedge)));
    return unfolded(work, fixture_printed(work, false));
}

/* 5 stitches to the inch. Two stitches are a measure, less than two are none. A repeat of 12 is 2 2/5 in, with two
 * edge stitches 2 4/5; one of 6 and a side stitch 1 2/5; one of 20, five at its sides and two edges 27, 5 2/5 in;
 * said to the eighth. */
static void a_chart_wider_than_the_piece(void)
{
    static const struct {
        const char *head, *measure, *chart, *says;
        int selvedge;
    } cases[] = {
        {ROUND, "around = 2/5 in", "ripple.chart", "one repeat of 12 stitches is 2 3/8 in", 0},
        {ROUND, "around = 3/8 in", "ripple.chart", "comes to less than two stitches", 0},
        {FLAT, "width = 1 in", "ripple.chart", "one repeat of 12 stitches is 2 3/8 in", 0},
        {FLAT, "width = 1 in", "ripple.chart", "one repeat of 12 stitches and 2 at its edges are 2 3/4 in", 1},
        {FLAT, "width = 1/2 in", "side.chart", "one repeat of 6 stitches and 1 at its sides are 1 3/8 in", 0},
        {FLAT, "width = 3 in", "seeds.chart", "one repeat of 20 stitches and 5 at its sides are 5 in", 0},
        {FLAT, "width = 3 in", "seeds.chart", "one repeat of 20 stitches and 7 at its sides and edges are 5 3/8 in", 1},
    };

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct work work = work_new();

        says(refused(&work, cases[i].head, cases[i].measure, cases[i].chart, cases[i].selvedge), cases[i].says);
        fixture_end(&work);
    }
}

CU_TestInfo tests_measures[] = {
    {"a width counts the edges, everywhere", a_width_counts_the_edges},
    {"a steek is on the needle", a_steek_is_on_the_needle},
    {"edges and nothing else are refused", edges_and_nothing_else_is_refused},
    {"a seam takes up the edge stitches", a_seam_takes_up_the_edges},
    {"no repeat makes up for one stitch", no_repeat_makes_up_for_one_stitch},
    {"without a seam nothing is taken up", without_a_seam_nothing_is_taken_up},
    {"sizes show the band furthest off", sizes_show_the_band_furthest_off},
    {"sizes say what a remedy makes of the chart", sizes_say_what_a_remedy_makes_of_the_chart},
    {"a part stays on its band's stitches", a_part_stays_on_its_bands_stitches},
    {"a child's size is noticed", a_childs_size_is_noticed},
    {"measures that cannot be meant", measures_that_cannot_be_meant},
    {"a size with two numbers wants a colon", a_size_with_two_numbers_wants_a_colon},
    {"edges at a steek", edges_at_a_steek},
    {"a rib at a steek", a_rib_at_a_steek},
    {"an even division is offered", an_even_division_is_offered},
    {"the best start says why", the_best_start_says_why},
    {"the ladder in words", the_ladder_in_words},
    {"the head names all that are off", the_head_names_all_that_are_off},
    {"what is printed subtracts", what_is_printed_subtracts},
    {"a chart wider than the piece", a_chart_wider_than_the_piece},
    CU_TEST_INFO_NULL,
};
