/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Charts proof-read: by hand, and the example charts, which are good, with every single slip put into
 * them in turn.
 */
#include <CUnit/CUnit.h>
#include <string.h>

#include "run.h"
#include "base/tables.h"
#include "fixture_reader.h"
#include "fixture_work.h"
#include "model/motif/proof.h"
#include "plan/motif/proofread.h"
#include "small_chart.h"

extern CU_TestInfo tests_proof[];

static int period(const char *row, int whole)
{
    return proof_row_period((const uint8_t *)row, (int)strlen(row), whole);
}

/* By hand: one and one over 9 stitches breaks at the join, over 8 it does not; plain never does. */
static void rows_by_hand(void)
{
    CU_ASSERT_EQUAL(period("x.x.x.x.x", 4), 2);
    CU_ASSERT_EQUAL(period("x.x.x.x.", 4), 0);
    CU_ASSERT_EQUAL(period("x.x.x.x", 4), 0); /* three whole times and a half are too few */
    CU_ASSERT_EQUAL(period("x..x..x..x..x", 4), 3);
    CU_ASSERT_EQUAL(period(".........", 4), 0);
    CU_ASSERT_EQUAL(period("x.x.xx.x.", 4), 0);
}

static int gaps(struct arena *arena, const char *const *rows, int nrows, struct proof_gap *out)
{
    struct grid grid = small_chart(arena, rows, nrows, ".x");
    struct symmetry_field field = {&grid, true, false, 0};

    return proof_gaps(&field, out, 3);
}

/* By hand: a slanting line that leaves at the left in row 4 must come in at the right in row 3, 4 or 5. */
static void lines_by_hand(void)
{
    static const char *const meets[] = {"........", "........", "x.....x.", ".x...x.x", "..x.x...",
                                        "...x....", "........"};
    static const char *const misses[] = {"........", "........", "x.......", ".x......", "..x.....",
                                         "...x...x", "....xxx."};
    static const char *const apart[] = {"........", "..x.....", "........", "...x....", "..x.....",
                                        ".x......", "........"};
    struct work work = fixture_work();
    struct proof_gap gap[3];

    CU_ASSERT_EQUAL(gaps(work.arena, meets, 7, gap), 0);
    CU_ASSERT_EQUAL(gaps(work.arena, misses, 7, gap), 1);
    CU_ASSERT_EQUAL(gap[0].row, 4);       /* the 5th row, last column */
    CU_ASSERT_EQUAL(gap[0].other_row, 1); /* the 2nd row, first column */
    CU_ASSERT_EQUAL(gaps(work.arena, apart, 7, gap), 0);
    fixture_end(&work);
}

static void strays_by_hand(void)
{
    static const char *const rows[] = {"xxxx......", "xxxx...x..", "xxxx......", "xxxxx.....", "..........",
                                       "x........."};
    struct work work = fixture_work();
    struct grid grid = SMALL_CHART(work.arena, rows, ".x");
    struct symmetry_field field = {&grid, true, true, 0};
    struct proof_stray stray[2];

    /* the stitch at the lower left touches the block above it, upwards round the chart */
    CU_ASSERT_EQUAL(proof_strays(&field, 1, 2, 0.06, stray), 1);
    CU_ASSERT_EQUAL(stray[0].row, 4);
    CU_ASSERT_EQUAL(stray[0].column, 2);
    CU_ASSERT_EQUAL(proof_strays(&field, 1, 2, 0.05, stray), 0); /* 1 of 19 is more than that */
    CU_ASSERT_EQUAL(proof_strays(&field, 1, 0, 1.0, stray), 0);
    CU_ASSERT_TRUE(proof_has_neighbour(&field, 0, 9));
    CU_ASSERT_FALSE(proof_has_neighbour(&field, 4, 2));
    fixture_end(&work);
}

/* --- the example charts --------------------------------------------------------------------- */

/* Three rounds of five, every 4th stitch and every 4th row, the middle one of the middle round left out, and single
 * stitches elsewhere that have none 4 rows up: of 14 and two such just half (4 of the lowest round, 4 of the next)
 * have one there, of 14 and three less than half. */
static void half_of_them_make_a_step(void)
{
    static const char *const half[] = {"....x.......x.......", "....................", "....................",
                                       "..x...x...x...x...x.", "....................", "....................",
                                       "....................", "..x...x.......x...x.", "....................",
                                       "....................", "....................", "..x...x...x...x...x."};
    static const char *const fewer[] = {"....x.......x.......", "x...................", "....................",
                                        "..x...x...x...x...x.", "....................", "....................",
                                        "....................", "..x...x.......x...x.", "....................",
                                        "....................", "....................", "..x...x...x...x...x."};
    struct work work = fixture_work();
    struct grid grid = SMALL_CHART(work.arena, half, ".x");
    struct symmetry_field field = {&grid, true, false, 0};
    struct proof_steps steps;
    struct proof_hole hole[3];

    CU_ASSERT_EQUAL_FATAL(proof_holes(&field, 1, 3, 10, &steps, hole), 1);
    CU_ASSERT_EQUAL(hole[0].row, 4);
    CU_ASSERT_EQUAL(hole[0].column, 9);
    CU_ASSERT_EQUAL(steps.agreeing, 14);
    grid = SMALL_CHART(work.arena, fewer, ".x");
    CU_ASSERT_EQUAL(proof_holes(&field, 1, 3, 10, &steps, hole), 0);
    fixture_end(&work);
}

/* Every 5th stitch, each 3rd row one on to the left, or to the right: a ring of 20 stitches and 15 rows, one left out. */
static void a_seeding_that_leans(void)
{
    for (int lean = 1; lean >= -1; lean -= 2) {
        uint8_t cell[15 * 20] = {0};
        struct grid grid = {15, 20, cell};
        struct symmetry_field field = {&grid, true, true, 0};
        struct proof_steps steps;
        struct proof_hole hole[3];

        for (int k = 0; k < 5; k++)
            for (int j = 0; j < 4; j++)
                cell[3 * k * 20 + (20 + lean * k + 5 * j) % 20] = 1;
        cell[6 * 20 + (20 + lean * 2 + 5) % 20] = 0;
        CU_ASSERT_EQUAL_FATAL(proof_holes(&field, 1, 3, 10, &steps, hole), 1);
        CU_ASSERT_EQUAL(hole[0].row, 6);
        CU_ASSERT_EQUAL(hole[0].column, (20 + lean * 2 + 5) % 20);
        CU_ASSERT_EQUAL(hole[0].beside_row, -1);
        CU_ASSERT_EQUAL(steps.step[0].rows, 3);
        CU_ASSERT_EQUAL(steps.step[0].columns, lean);
        CU_ASSERT_EQUAL(steps.agreeing, 19);
    }
}

static const char *const examples[] = {"examples/barley-socks/barley-socks.ini",
                                       "examples/moth-cushion/moth-cushion.ini",
                                       "examples/pinewood-yoke/pinewood-yoke.ini",
                                       "examples/skep-mittens/skep-mittens.ini",
                                       "examples/tile-blanket/tile-blanket.ini",
                                       "examples/toadstool-hat/toadstool-hat.ini"};

static int doubts(const struct proof_chart *chart)
{
    return chart->nfaults + chart->nrows + chart->ngaps + chart->ngaps_up + chart->nstrays + chart->nholes;
}

/* They were looked through by eye. */
static void good_charts_are_left_alone(void)
{
    for (size_t i = 0; i < sizeof examples / sizeof *examples; i++) {
        struct work work = fixture_work();
        struct run_checked checked;

        work.tables = tables_load(&work);
        CU_ASSERT_EQUAL_FATAL(run_check(&work, examples[i], &checked), RUN_DONE);
        CU_ASSERT_TRUE(checked.read->ncharts > 0);
        for (int k = 0; k < checked.read->ncharts; k++)
            CU_ASSERT_EQUAL(doubts(&checked.read->charts[k]), 0);
        fixture_end(&work);
    }
}

struct slips {
    int put, found, placed; /* found: something is said; placed: of that stitch or its partner */
};

static bool is_placed(const struct proof_chart *chart, int row, int column)
{
    for (int i = 0; i < chart->nfaults; i++) {
        const struct proof_fault *fault = &chart->faults[i];

        if ((fault->row == row && fault->column == column) ||
            (fault->partner_row == row && fault->partner_column == column))
            return true;
    }
    return false;
}

/* Each stitch of a band's chart made another yarn of that chart, one at a time. */
static void slip_everywhere(struct work *work, const struct project *project, int part,
                            const struct chart *good, struct slips *slips)
{
    size_t cells = (size_t)good->repeat.nrows * (size_t)good->repeat.ncols;
    uint8_t *cell = arena_alloc(work->arena, cells, 1), ground = symmetry_ground(&good->repeat);
    const struct chart **charts = arena_alloc(work->arena, (size_t)project->nparts, sizeof *charts);
    struct chart slipped = *good;
    uint8_t pattern = ground;

    memcpy(cell, good->repeat.cell, cells);
    for (size_t i = 0; i < cells && pattern == ground; i++)
        pattern = cell[i];
    slipped.repeat.cell = cell;
    charts[part] = &slipped;
    for (size_t i = 0; i < cells; i++) {
        uint8_t was = cell[i];
        const struct proofreading *read;

        cell[i] = was == ground ? pattern : ground;
        read = proofread(work, project, charts);
        slips->put++;
        slips->found += doubts(&read->charts[0]) > 0;
        slips->placed += is_placed(&read->charts[0], (int)i / good->repeat.ncols,
                                   (int)i % good->repeat.ncols);
        cell[i] = was;
    }
}

/* All but those on an axis, which break no mirror. Counted by hand: of the barley (26 rows) and the moth
 * (24) the axis through a stitch and the one half a repeat on. In the tile (20 by 20, both ways) four lines
 * cross four times: there alone a slip keeps both mirrors and the half-turn. */
static void slips_are_found(void)
{
    static const struct {
        int example, on_axes;
    } chosen[] = {{0, 2 * 26}, {1, 2 * 24}, {4, 4}};

    for (int i = 0; i < 3; i++) {
        struct work work = fixture_work();
        struct run_checked checked;
        struct slips slips = {0};
        int part = 0;

        work.tables = tables_load(&work);
        CU_ASSERT_EQUAL_FATAL(run_check(&work, examples[chosen[i].example], &checked), RUN_DONE);
        while (checked.project->parts[part].kind != PART_BAND)
            part++;
        slip_everywhere(&work, checked.project, part, checked.read->charts[0].chart, &slips);
        CU_ASSERT_TRUE(slips.put > 300);
        CU_ASSERT_EQUAL(slips.placed, slips.put - chosen[i].on_axes);
        CU_ASSERT_EQUAL(slips.found, slips.placed);
        fixture_end(&work);
    }
}

/* Too many off the mirror to be named each, and all of them in the round that was typed askew. */
static void a_round_off_the_mirror_is_named(void)
{
    struct work work = fixture_work();
    struct run_checked checked;
    const struct proof_chart *chart;
    struct reader reader;

    work.tables = tables_load(&work);
    CU_ASSERT_EQUAL_FATAL(run_check(&work, "tests/projects/seeding-shifted.ini", &checked), RUN_DONE);
    chart = &checked.read->charts[0];
    CU_ASSERT_TRUE(chart->has_mirror_off);
    CU_ASSERT_EQUAL(chart->mirror_off.breaks, 4);
    CU_ASSERT_EQUAL(chart->noff, 0);
    CU_ASSERT_EQUAL(chart->off_row, 10);
    /* a stitch more, on no mirror line of the rest: two rows are off it */
    reader_begin(&reader, 24, 24, true);
    memcpy(reader.cell, chart->chart->repeat.cell, 24 * 24);
    reader.cell[2 * 24 + 1] = 1;
    chart = reader_read(&reader);
    CU_ASSERT_TRUE(chart->has_mirror_off);
    CU_ASSERT_EQUAL(chart->mirror_off.breaks, 5);
    CU_ASSERT_EQUAL(chart->noff, 0);
    CU_ASSERT_EQUAL(chart->off_row, -1);
    fixture_end(&reader.work);
    fixture_end(&work);
}

/* The twig drawn three times: the two that agree say which stitch is the slip. The star of the cautions:
 * its mirror alone does not tell which of two stitches it is, its half-turn does. */
static void the_slip_is_named(void)
{
    struct work work = fixture_work();
    struct run_checked checked;
    const struct proof_chart *chart;

    work.tables = tables_load(&work);
    CU_ASSERT_EQUAL_FATAL(run_check(&work, "tests/projects/three-copies.ini", &checked), RUN_DONE);
    chart = &checked.read->charts[0];
    CU_ASSERT_EQUAL_FATAL(chart->broken, SYMMETRY_ALONG);
    CU_ASSERT_EQUAL(chart->symmetries.of[SYMMETRY_ALONG].times, 3);
    CU_ASSERT_EQUAL_FATAL(doubts(chart), 1);
    CU_ASSERT_TRUE(chart->faults[0].likely);
    CU_ASSERT_EQUAL(chart->faults[0].row, 3);
    CU_ASSERT_EQUAL(chart->faults[0].column, 5);
    /* four copies, a stitch changed in two of them: which two nobody can say, but it is told the same way of both */
    CU_ASSERT_EQUAL_FATAL(run_check(&work, "tests/projects/four-copies.ini", &checked), RUN_DONE);
    chart = &checked.read->charts[0];
    CU_ASSERT_EQUAL_FATAL(chart->broken, SYMMETRY_ALONG);
    CU_ASSERT_EQUAL(chart->symmetries.of[SYMMETRY_ALONG].times, 4);
    CU_ASSERT_EQUAL_FATAL(chart->nfaults, 2);
    for (int i = 0; i < 2; i++) {
        CU_ASSERT_FALSE(chart->faults[i].likely);
        CU_ASSERT_EQUAL(chart->faults[i].row, 7);
        CU_ASSERT_EQUAL(chart->faults[i].wanted, chart->faults[0].wanted);
        CU_ASSERT_NOT_EQUAL(chart->faults[i].yarn, chart->faults[i].wanted);
    }
    CU_ASSERT_EQUAL_FATAL(run_check(&work, "tests/cautions/chart-partner.ini", &checked), RUN_DONE);
    chart = &checked.read->charts[0];
    CU_ASSERT_EQUAL_FATAL(doubts(chart), 1);
    CU_ASSERT_TRUE(chart->faults[0].likely);
    CU_ASSERT_EQUAL(chart->faults[0].row, 4);
    CU_ASSERT_EQUAL(chart->faults[0].column, 2);
    CU_ASSERT_EQUAL(chart->faults[0].partner_column, 8);
    fixture_end(&work);
}

static const struct proof_chart *read_one(struct work *work, const char *path)
{
    struct run_checked checked;

    work->tables = tables_load(work);
    CU_ASSERT_EQUAL_FATAL(run_check(work, path, &checked), RUN_DONE);
    return &checked.read->charts[0];
}

/* By hand: the knot keeps its mirror; the stitch on the axis that its half-turn misses is in row 4 or 12 of 15.
 * In the sprig a single stitch lies in the ground, its partner in plain ground: the single one is the slip. */
static void slips_have_a_place(void)
{
    struct work work = fixture_work();
    const struct proof_chart *chart = read_one(&work, "tests/projects/proof-axis.ini");

    CU_ASSERT_TRUE(chart->symmetries.holds[SYMMETRY_ACROSS]);
    CU_ASSERT_EQUAL_FATAL(chart->nfaults, 1);
    CU_ASSERT_TRUE(is_placed(chart, 3, 7));
    CU_ASSERT_TRUE(is_placed(chart, 11, 7));
    CU_ASSERT_FALSE(chart->faults[0].likely); /* which of the two nobody can say: the lower is named first */
    CU_ASSERT_EQUAL(chart->faults[0].row, 3);
    CU_ASSERT_EQUAL(chart->faults[0].partner_row, 11);
    chart = read_one(&work, "tests/projects/proof-speck.ini");
    CU_ASSERT_EQUAL_FATAL(chart->nfaults, 1);
    CU_ASSERT_TRUE(chart->faults[0].likely);
    CU_ASSERT_EQUAL(chart->faults[0].row, 13);
    CU_ASSERT_EQUAL(chart->faults[0].column, 1);
    CU_ASSERT_EQUAL(chart->nstrays, 0);
    fixture_end(&work);
}

/* By hand: 15 stitches, every 4 in rounds 1 and 3, one and one in rounds 2, 5 and 6. No line is made up of
 * rounds 1 and 3. */
static void too_few_whole_times(void)
{
    struct work work = fixture_work();
    const struct proof_chart *chart = read_one(&work, "tests/projects/proof-peerie.ini");
    int fours = 0;

    CU_ASSERT_EQUAL(chart->ngaps, 0);
    CU_ASSERT_EQUAL_FATAL(chart->nrows, 5);
    for (int i = 0; i < chart->nrows; i++)
        fours += chart->rows[i].period == 4 && (chart->rows[i].row == 0 || chart->rows[i].row == 2);
    CU_ASSERT_EQUAL(fours, 2);
    fixture_end(&work);
}

/* By eye from tile.chart: red beside green and oat in rounds 9 to 13. Green and rust are nearly as light,
 * and stand alone together in no round. */
static void colours_of_the_tile(void)
{
    struct work work = fixture_work();
    struct run_checked checked;
    int close = 0;

    work.tables = tables_load(&work);
    CU_ASSERT_EQUAL_FATAL(run_check(&work, examples[4], &checked), RUN_DONE);
    CU_ASSERT_EQUAL_FATAL(checked.read->charts[0].nthree, 5);
    CU_ASSERT_EQUAL(checked.read->charts[0].three[0], 8);
    CU_ASSERT_EQUAL(checked.read->charts[0].three[4], 12);
    for (int i = 0; i < checked.read->nshades; i++)
        if (checked.read->shades[i].close) {
            close++;
            CU_ASSERT_EQUAL(checked.read->shades[i].alone_row, -1);
        }
    CU_ASSERT_EQUAL(close, 1);
    fixture_end(&work);
}

/* By eye: the rust lies in the light one, in rounds of three colours; below round 4 there is none of it. Its
 * outline by hand: 22 edges against the light one, 6 against the ground within; the tile's red has more of
 * the ground round it than of the green. */
static void shades_beside_each_other(void)
{
    struct work work = fixture_work();
    struct run_checked checked;

    work.tables = tables_load(&work);
    CU_ASSERT_EQUAL_FATAL(run_check(&work, "tests/projects/proof-shades.ini", &checked), RUN_DONE);
    CU_ASSERT_EQUAL_FATAL(checked.read->nshades, 3);
    CU_ASSERT_TRUE(checked.read->shades[2].close);
    CU_ASSERT_EQUAL(checked.read->shades[2].alone_row, -1);
    CU_ASSERT_EQUAL(checked.read->shades[2].beside_row, 3);
    CU_ASSERT_EQUAL_FATAL(run_check(&work, examples[4], &checked), RUN_DONE);
    for (int i = 0; i < checked.read->nshades; i++)
        CU_ASSERT_EQUAL(checked.read->shades[i].beside_row, -1);
    fixture_end(&work);
}

/* --- places -------------------------------------------------------------------------------- */

/* The line and column a text editor shows. */
static void places(void)
{
    struct work work = fixture_work();
    struct run_checked checked;
    struct place place;

    work.tables = tables_load(&work);
    CU_ASSERT_EQUAL_FATAL(run_check(&work, examples[1], &checked), RUN_DONE);
    place = chart_place(checked.read->charts[0].chart, 23, 0); /* the moth: below three lines of remarks */
    CU_ASSERT_EQUAL(place.line, 4);
    CU_ASSERT_EQUAL(place.column, 31); /* "....", a bar between blanks, 24 stitches: the last of them */
    place = chart_place(checked.read->charts[0].chart, 0, 23);
    CU_ASSERT_EQUAL(place.line, 27);
    CU_ASSERT_EQUAL(place.column, 8);
    CU_ASSERT_EQUAL_FATAL(run_check(&work, examples[3], &checked), RUN_DONE);
    place = chart_place(checked.read->charts[0].chart, 40, 27); /* beside the skep: the edge */
    CU_ASSERT_TRUE(strstr(place.source->name, "edge.chart") != NULL);
    CU_ASSERT_EQUAL(place.column, 3);
    fixture_end(&work);
}

CU_TestInfo tests_proof[] = {{"rows by hand", rows_by_hand},
                             {"lines by hand", lines_by_hand},
                             {"strays by hand", strays_by_hand},
                             {"good charts are left alone", good_charts_are_left_alone},
                             {"slips are found", slips_are_found},
                             {"a round off the mirror", a_round_off_the_mirror_is_named},
    {"the slip is named", the_slip_is_named},
    {"half of them make a step", half_of_them_make_a_step},
    {"a seeding that leans", a_seeding_that_leans},
                             {"slips have a place", slips_have_a_place},
                             {"too few whole times", too_few_whole_times},
                             {"colours of the tile", colours_of_the_tile},
                             {"shades beside each other", shades_beside_each_other},
                             {"places", places},
                             CU_TEST_INFO_NULL};
