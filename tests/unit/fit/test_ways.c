/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ways round a repeat in whole plans: judged by the count that is planned, offered in words, picked. All
 * sums by hand, over the ripple of 12 stitches and the ticks of 8 in tests/projects.
 */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

#include "run.h"
#include "app/disk.h"
#include "base/arena.h"
#include "base/diag.h"
#include "base/tables.h"
#include "check/check.h"
#include "read/chart/chart.h"
#include "render/render.h"

extern CU_TestInfo tests_ways[];

static struct work work_new(void)
{
    struct work work = {.arena = arena_create((size_t)1 << 30), .outside = &disk};

    work.diagnostics = diagnostics_create(work.arena);
    work.tables = tables_load(&work);
    return work;
}

static const char *const ROUND = "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 24\n"
                                 "rows = 26\n";
static const char *const FLAT = "[project]\nworked = flat\n[swatch]\nworked = flat\nwashed = yes\n"
                                "over = 4 in\nstitches = 24\nrows = 26\n[edges]\nselvedge = 1\n";
static const char *const YARNS = "[yarn pale]\nmark = .\n[yarn dark]\nmark = x\n";

/* Charts from tests/projects. NULL: refused. */
static const struct plan *plan_of(struct work *work, const char *swatch, const char *sections)
{
    char *text = arena_printf(work->arena, "%s%s%s", swatch, sections, YARNS);
    const struct source *source = source_from_text(work, "tests/projects/ways.ini", text);
    const struct project *project = project_read_source(work, source);
    const struct chart **charts =
        arena_alloc(work->arena, (size_t)project->nparts, sizeof *charts);

    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_BAND)
            charts[i] = chart_read_band(work, project, &project->parts[i]);
    check_project(work, project, charts);
    return diagnostics_fatal(work->diagnostics) ? NULL : plan_build(work, project, charts);
}

/* The page and the words, one blank for every stretch of white space. */
static const char *words_of(struct work *work, const struct plan *plan)
{
    static const struct words_style plain = {.width = 80};
    struct text text = text_create(work->arena);
    char *out, *to;

    render_report(work, plan, &plain, &text);
    render_directions(work, plan, &plain, &text);
    out = to = arena_alloc(work->arena, text.length + 1, 1);
    for (const char *c = text.bytes; *c; c++)
        if ((*c != '\n' && *c != ' ') || (to > out && to[-1] != ' '))
            *to++ = *c == '\n' ? ' ' : *c;
    return out;
}

static void check_says(const char *words, const char *fact)
{
    CU_ASSERT_PTR_NOT_NULL(strstr(words, fact));
    if (!strstr(words, fact))
        printf("\n    not said: %s\n", fact);
}

/* Whether a message says so much, in its fact or in what to do. */
static bool is_said(struct work *work, enum diag_code code, const char *fact)
{
    int n = 0;
    const struct diag *all = diagnostics_sorted(work->diagnostics, &n);

    for (int i = 0; i < n; i++)
        if (all[i].code == code && (strstr(all[i].what, fact) || strstr(all[i].todo, fact)))
            return true;
    return false;
}

static const struct fit_remedy *find(const struct plan_band *band, const char *choice)
{
    for (int i = 0; i < band->nremedies; i++)
        if (strcmp(band->remedies[i].choice, choice) == 0)
            return &band->remedies[i];
    return NULL;
}

#define SHARED                                                                                     \
    "[measure]\naround = 46 in\n[band one]\nchart = ripple.chart\n%s[band two]\nchart = ticks.chart\n" \
    "count = as below\n"

/* 46 in at 6 are 276 = 23 x 12, but not a multiple of 8: 288 is planned for both. */
static void by_the_count_that_is_shared(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, ROUND, arena_printf(work.arena, SHARED, ""));
    const struct plan_band *band;

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    band = plan->piece.bands;
    CU_ASSERT_EQUAL(band->stitches, 288);
    CU_ASSERT_PTR_NOT_NULL(find(band, "another gauge, 24 repeats"));
    CU_ASSERT_PTR_NOT_NULL(find(band, "part repeats, 23 repeats"));
    CU_ASSERT_PTR_NULL(find(band, "another count, 23 repeats"));
    CU_ASSERT_EQUAL(plan->piece.bands[1].nremedies, 0);
    check_says(words_of(&work, plan), "take count = as below out of [band two]");
    plan = plan_of(&work, ROUND,
                   arena_printf(work.arena, SHARED, "remedy = another gauge, 24 repeats\n"));
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.gauge.per_in, 288 / 46.0, 1e-9);
    CU_ASSERT_EQUAL(plan->piece.bands[1].stitches, 288);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.bands[1].finished_in, 46, 1e-9);
    arena_destroy(work.arena);
}

/* Solved together they have 288 and 288; her own 23 repeats are a way round, and may be picked. */
static void solved_together(void)
{
    static const char *const sections =
        "[measure]\naround = 46 in\ncounts = together\n[band one]\nchart = ripple.chart\n%s[band two]\n"
        "chart = ticks.chart\n";
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, ROUND, arena_printf(work.arena, sections, ""));
    const struct plan_band *band;

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    band = plan->piece.bands;
    CU_ASSERT_EQUAL(band->stitches, 288);
    CU_ASSERT_PTR_NOT_NULL_FATAL(find(band, "another count, 23 repeats"));
    CU_ASSERT_TRUE(find(band, "another count, 23 repeats")->meets);
    check_says(words_of(&work, plan), "Without counts = together");
    plan = plan_of(&work, ROUND,
                   arena_printf(work.arena, sections, "remedy = another count, 23 repeats\n"));
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_EQUAL(plan->piece.bands[0].stitches, 276);
    arena_destroy(work.arena);
}

/* 15 in are 90 stitches: 96, the larger of two as near, is planned; another count is 84. */
static void another_count_is_another(void)
{
    struct work work = work_new();
    const struct plan *plan =
        plan_of(&work, ROUND, "[measure]\naround = 15 in\n[band one]\nchart = ripple.chart\n");

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_EQUAL(plan->piece.bands[0].stitches, 96);
    plan = plan_of(&work, ROUND,
                   "[measure]\naround = 15 in\n[band one]\nchart = ripple.chart\nremedy = another count\n");
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_EQUAL(plan->piece.bands[0].stitches, 84);
    check_says(words_of(&work, plan), "To write in place of what is picked: ");
    arena_destroy(work.arena);
}

/* 12 in are 72 stitches: they pull to 72 / 6 x 1.2125 = 14.55 in (the shares of test_counts). 84 pull to
 * 16.98: to pass 16 in those are picked, though 72 meet the measure. */
static void the_count_that_passes(void)
{
    static const char *const sections =
        "[measure]\naround = %s in\nmust pass = 16 in\n[band one]\nchart = ripple.chart\n%s";
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, ROUND, arena_printf(work.arena, sections, "12", ""));
    const char *words;

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_EQUAL(plan->piece.bands[0].stitches, 72);
    CU_ASSERT_EQUAL_FATAL(plan->piece.bands[0].nremedies > 0, true);
    CU_ASSERT_STRING_EQUAL(plan->piece.bands[0].remedies[0].choice, "another count, 7 repeats");
    words = words_of(&work, plan);
    check_says(words, "As planned it does not pass 16 in (40.6 cm); with these it does.");
    check_says(words, "like this: remedy = another count, 7 repeats.");
    plan = plan_of(&work, ROUND, arena_printf(work.arena, sections, "11 1/2", ""));
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_EQUAL(plan->piece.bands[0].stitches, 72);
    words = words_of(&work, plan);
    check_says(words, "like this: remedy = another count, 7 repeats.");
    check_says(words, "These do not pass: ");
    plan = plan_of(&work, ROUND,
                   arena_printf(work.arena, sections, "11 1/2", "remedy = another count, 7 repeats\n"));
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_TRUE(plan->piece.bands[0].stretch->passes);
    arena_destroy(work.arena);
}

/* 10 1/4 in are 61 1/2 stitches, 60 of them 2.4 % fewer. A plain swatch keeps its gauge, without one all
 * goes with the band. */
static void plain_stays_on_its_needle(void)
{
    static const char *const sections =
        "%s[measure]\naround = 10 1/4 in\n[band one]\nchart = ripple.chart\nremedy = another gauge\n"
        "[plain leg]\nyarn = pale\nrounds = 9\n";
    static const char *const swatch =
        "[swatch plain]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 22\nrows = 30\n";
    struct work work = work_new(), own = work_new();
    const struct plan *plan = plan_of(&work, ROUND, arena_printf(work.arena, sections, ""));

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.plain_gauge.per_in, 60 / 10.25, 1e-9);
    CU_ASSERT_TRUE(is_said(&work, DIAG_GAUGE_WANTED, "All of this plan is for 5.85"));
    CU_ASSERT_FALSE(is_said(&work, DIAG_GAUGE_WANTED, "change needles"));
    plan = plan_of(&own, ROUND, arena_printf(own.arena, sections, swatch));
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.plain_gauge.per_in, 5.5, 1e-9);
    CU_ASSERT_TRUE(is_said(&own, DIAG_GAUGE_WANTED, "The band of this plan is for 5.85"));
    CU_ASSERT_TRUE(is_said(&own, DIAG_GAUGE_WANTED, "change needles before the band and after it"));
    check_says(words_of(&own, plan), "Take a larger needle for the band; what is plain stays on its own");
    arena_destroy(work.arena);
    arena_destroy(own.arena);
}

/* 11 1/2 in are 69 stitches: 5 x 12 and 9, which make one round of 69, but are said as they are. */
static void part_repeats_are_said(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, ROUND, "[measure]\naround = 11 1/2 in\n[band one]\n"
                                                    "chart = ripple.chart\nremedy = part repeats\n");
    const char *words;

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    words = words_of(&work, plan);
    check_says(words, "stitches 5 repeats of 12 and 9 stitches of part ones = 69 stitches");
    check_says(words, ") of 12 and 9 stitches of part ones.");
    check_says(words, "Band one, 5 repeats of 12 and 9 stitches of part ones: rounds");
    CU_ASSERT_PTR_NULL(strstr(words, "1 repeat of 69"));
    plan = plan_of(&work, ROUND, "[measure]\naround = 11 1/2 in\n[band one]\n"
                                 "chart = ripple.chart\nremedy = plain sides\n");
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    check_says(words_of(&work, plan), "Band one, 5 repeats of 12 and 9 plain: rounds");
    arena_destroy(work.arena);
}

/* Flat, with an edge stitch at each side: 12 in are 72 stitches, 74 of them 6 x 12 and 2. */
static void edges_are_told_apart(void)
{
    struct work work = work_new();
    const struct plan *plan =
        plan_of(&work, FLAT, "[measure]\nwidth = 12 3/4 in\n[cast-on]\nrib = knit 2 purl 2, 6 rows\n"
                             "rib stitches = 66\n[band one]\nchart = ripple.chart\nremedy = shape\n"
                             "[plain top]\nyarn = pale\nrows = 9\n");
    const char *words;

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    words = words_of(&work, plan);
    check_says(words, "Increase to 72 between the edge ");
    check_says(words, "(6 repeats of 12 and 2 edge stitches)");
    check_says(words, "after it between the edge stitches: ");
    arena_destroy(work.arena);
}

/* Knit 7 purl 6 goes into multiples of 13, with the ticks of 8 only of 104; 77 stitches are wanted, and 80
 * suit the ticks alone; 78 is the rib nearest to them. */
static void the_rib_in_the_way(void)
{
    static const char *const sections =
        "[measure]\naround = %s\ncounts = together\n[cast-on]\nrib = knit 7 purl 6, 6 rounds\n[band one]\n"
        "chart = ticks.chart\n";
    struct work work = work_new(), far = work_new();

    CU_ASSERT_PTR_NULL(plan_of(&work, ROUND, arena_printf(work.arena, sections, "12 5/6 in")));
    CU_ASSERT_TRUE(is_said(&work, DIAG_COUNT_BEYOND, "It is the rib, knit 7 purl 6"));
    CU_ASSERT_TRUE(is_said(&work, DIAG_COUNT_BEYOND, "Write rib stitches = 78"));
    /* 96 wanted: 104 is near enough to be planned, and said. */
    CU_ASSERT_PTR_NOT_NULL(plan_of(&far, ROUND, arena_printf(far.arena, sections, "16 in")));
    CU_ASSERT_TRUE(is_said(&far, DIAG_MEASURE_FAR, "Write rib stitches = 91"));
    arena_destroy(work.arena);
    arena_destroy(far.arena);
}

/* 11 1/2 in are 69 stitches and 72 are planned, into which a rib of 4 goes; not into 5 x 14 = 70,
 * and with counts = together that is not to be written a second time. */
static void the_rib_goes_on(void)
{
    static const char *const sections =
        "[measure]\naround = 11 1/2 in\ncounts = together\n[cast-on]\nrib = knit 2 purl 2, 6 rounds\n"
        "[band one]\nchart = ripple.chart\n%s";
    struct work work = work_new(), odd = work_new();
    const struct plan *plan = plan_of(&work, ROUND, arena_printf(work.arena, sections, ""));

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_EQUAL(plan->piece.bands[0].stitches, 72);
    check_says(words_of(&work, plan), "where it does not go into another one, write rib stitches besides");
    CU_ASSERT_PTR_NULL(plan_of(&odd, ROUND, arena_printf(odd.arena, sections,
                                                        "remedy = plain columns, 5 repeats\n")));
    CU_ASSERT_TRUE(is_said(&odd, DIAG_RIB_MULTIPLE, "Write rib stitches = 68 or 72"));
    CU_ASSERT_FALSE(is_said(&odd, DIAG_RIB_MULTIPLE, "counts = together"));
    arena_destroy(work.arena);
    arena_destroy(odd.arena);
}

/* One side stitch in repeats of 4, none in repeats of 12: never the same count. */
static void refused_where_shared(void)
{
    struct work never = work_new();

    CU_ASSERT_PTR_NULL(plan_of(&never, FLAT,
                               "[measure]\nwidth = 20 in\n[band one]\nchart = ripple.chart\n"
                               "remedy = trim\n[band two]\nchart = side.chart\ncount = as below\n"));
    CU_ASSERT_TRUE(is_said(&never, DIAG_REMEDY_IMPOSSIBLE, "There is no count at all that suits one"));
    arena_destroy(never.arena);
}

/* What is refused names its one reason, and the nearest that only needs to be written. */
static void refused_for_a_reason(void)
{
    struct work work = work_new();

    /* 12 in and a sixth: 73; 72 is within 6 %, and no width of 10 to 14 comes within 1 % but 12. */
    CU_ASSERT_PTR_NULL(plan_of(&work, ROUND, "[measure]\naround = 13 in\n[band one]\nchart = ripple.chart\n"
                                             "remedy = another gauge\n"));
    CU_ASSERT_TRUE(is_said(&work, DIAG_REMEDY_IMPOSSIBLE,
                           "another needle moves a gauge by 6 % at the most, and whole repeats ask for "
                           "7.7 %"));
    CU_ASSERT_TRUE(is_said(&work, DIAG_REMEDY_IMPOSSIBLE, "What comes nearest: remedy = "));
    CU_ASSERT_FALSE(is_said(&work, DIAG_REMEDY_IMPOSSIBLE, "another count"));
    arena_destroy(work.arena);
}

/* 66 plain stitches at 5 1/2 are 12 in, 72 in the band; it has 84. Neither goes over 20 in. */
static void neither_passes(void)
{
    static const char *const sections =
        "[swatch plain]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 22\nrows = 30\n"
        "[measure]\naround = 14 in\nmust pass = %s in\n[band one]\nchart = ripple.chart\n"
        "[plain leg]\nyarn = pale\nrounds = 9\nstitches on needle = 66\n";
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, ROUND, arena_printf(work.arena, sections, "20"));

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    check_says(words_of(&work, plan),
               "72, and on so few it does not pass what it must, nor does it on the 84 it has.");
    plan = plan_of(&work, ROUND, arena_printf(work.arena, sections, "15"));
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    check_says(words_of(&work, plan), "72, and on so few it does not pass what it must.");
    arena_destroy(work.arena);
}

CU_TestInfo tests_ways[] = {
    {"by the count that is shared", by_the_count_that_is_shared},
    {"solved together", solved_together},
    {"another count is another", another_count_is_another},
    {"the count that passes", the_count_that_passes},
    {"plain stays on its needle", plain_stays_on_its_needle},
    {"part repeats are said", part_repeats_are_said},
    {"edges are told apart", edges_are_told_apart},
    {"the rib in the way", the_rib_in_the_way},
    {"refused for a reason", refused_for_a_reason},
    {"refused where the count is shared", refused_where_shared},
    {"the rib goes on", the_rib_goes_on},
    {"neither passes", neither_passes},
    CU_TEST_INFO_NULL,
};
