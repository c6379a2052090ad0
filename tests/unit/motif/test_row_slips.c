/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Slips of a whole row: every one of each kind put into good charts, and good charts that must
 * raise no alarm. The charts are made here; what a slip is does not come from the program.
 */
#include <CUnit/CUnit.h>
#include <string.h>

#include "run.h"
#include "base/tables.h"
#include "fixture_reader.h"
#include "plan/motif/proofread.h"
#include "small_chart.h"

extern CU_TestInfo tests_row_slips[];

enum {
    SIDE_MAX = READER_SIDE_MAX,
    CELLS_MAX = READER_CELLS_MAX,
    KINDS = ROW_DOUBLED + 1,
    SLIP_CHARTS = 6,
    ALARM_CHARTS = 1000
};

/* --- the slips ----------------------------------------------------------------------------------
 */

struct good {
    int nrows, ncols;
    uint8_t cell[CELLS_MAX];
};

static const uint8_t *good_row(const struct good *good, int row)
{
    return good->cell + row * good->ncols;
}

static bool rows_alike(const struct good *good, int row, int other)
{
    return memcmp(good_row(good, row), good_row(good, other), (size_t)good->ncols) == 0;
}

/* Two yarns exchanged, where the row has just two. */
static bool exchange(uint8_t *row, int ncols)
{
    int other = 1;
    uint8_t yarn[2] = {row[0], row[0]};

    while (other < ncols && row[other] == row[0])
        other++;
    if (other == ncols)
        return false;
    yarn[1] = row[other];
    for (int i = 0; i < ncols; i++) {
        if (row[i] != yarn[0] && row[i] != yarn[1])
            return false;
        row[i] = yarn[row[i] == yarn[0]];
    }
    return true;
}

/* side: 1 to the left, -1 to the right. Returned: false: that changes nothing, or cannot be. */
static bool put_slip(struct reader *reader, const struct good *good, enum row_slip_kind kind,
                     int row, int side)
{
    int nrows = good->nrows, ncols = good->ncols;
    size_t above = (size_t)((nrows - row - 1) * ncols);
    uint8_t *own = reader->cell + row * ncols;
    const uint8_t *was = good_row(good, row);

    memcpy(reader->cell, good->cell, (size_t)(nrows * ncols));
    reader->chart.repeat.nrows = nrows;
    switch (kind) {
    case ROW_SHIFTED:
        for (int i = 0; i < ncols; i++)
            own[(i + side + ncols) % ncols] = was[i];
        return memcmp(own, was, (size_t)ncols) != 0;
    case ROW_EXCHANGED:
        return exchange(own, ncols);
    case ROW_SWAPPED:
        if (row + 1 == nrows || rows_alike(good, row, row + 1))
            return false;
        memcpy(own, was + ncols, (size_t)ncols);
        memcpy(own + ncols, was, (size_t)ncols);
        return true;
    case ROW_MISSING:
        memcpy(own, was + ncols, above);
        reader->chart.repeat.nrows = nrows - 1;
        return true;
    case ROW_DOUBLED:
        memcpy(own + ncols, was, above + (size_t)ncols);
        reader->chart.repeat.nrows = nrows + 1;
        return true;
    }
    return false;
}

/* That slip in that row; a row missing or doubled, in one of those round it that are the same. */
static bool is_named(const struct proof_chart *chart, const struct good *good,
                     enum row_slip_kind kind, int row, int side)
{
    int low = row, high = row;

    for (; kind >= ROW_MISSING && low > 0 && rows_alike(good, low - 1, row); low--)
        ;
    for (; kind == ROW_MISSING && high + 1 < good->nrows && rows_alike(good, high + 1, row); high++)
        ;
    for (int i = 0; i < chart->nslips; i++) {
        int named = chart->slips[i].row;

        if (chart->slips[i].kind == kind &&
            (kind != ROW_SHIFTED || chart->slips[i].column == side) &&
            ((named >= low && named <= high) ||
             (kind == ROW_MISSING && named == 0 && high == good->nrows - 1))) /* over the join */
            return true;
    }
    return false;
}

struct count {
    int put, named, other,
        noted; /* other: a slip of another kind or place is named; noted: stitches are */
};

static void slip_everywhere(struct reader *reader, const struct good *good,
                            struct count counts[KINDS])
{
    for (int kind = 0; kind < KINDS; kind++)
        for (int row = 0; row < good->nrows; row++)
            for (int side = 1; side >= (kind == ROW_SHIFTED ? -1 : 1); side -= 2) {
                const struct proof_chart *chart;
                bool named;

                if (!put_slip(reader, good, (enum row_slip_kind)kind, row, side))
                    continue;
                chart = reader_read(reader);
                named = is_named(chart, good, (enum row_slip_kind)kind, row, side);
                counts[kind].put++;
                counts[kind].named += named;
                counts[kind].other += chart->nslips > 0 && !named;
                counts[kind].noted += chart->nslips == 0 && chart->nfaults + chart->nholes > 0;
            }
    reader->chart.repeat.nrows = good->nrows;
    memcpy(reader->cell, good->cell, sizeof good->cell);
}

/* --- good charts --------------------------------------------------------------------------------
 */

static int roll(uint64_t *state, int from, int to)
{
    return from + (int)dice_below(state, (uint32_t)(to - from + 1));
}

enum shape {
    MIRRORED,  /* left to right */
    UPSIDE,    /* top to bottom */
    BOTH_WAYS, /* and so turned half round */
    TURNED,
    STEPPED, /* up by a third or fourth of it and along */
    SHAPES
};

static uint8_t *cell_of(struct good *good, int row, int column)
{
    return &good->cell[(row + good->nrows) % good->nrows * good->ncols +
                       (column + good->ncols) % good->ncols];
}

/* Noise of one stitch in three, made symmetrical. */
static void make_good(struct good *good, enum shape shape, uint64_t *state)
{
    int times = shape == STEPPED ? roll(state, 3, 4) : 1, nrows = good->nrows / times * times;
    int step = good->ncols / times;

    memset(good->cell, 0, sizeof good->cell);
    good->nrows = nrows;
    good->ncols = step * times;
    for (int row = 0; row < nrows; row++)
        for (int c = 0; c < good->ncols; c++) {
            int r = shape == MIRRORED  ? row
                    : shape == STEPPED ? row % (nrows / times)
                                       : nrows - 1 - row;
            int from = shape == UPSIDE    ? c
                       : shape == STEPPED ? c - row / (nrows / times) * step
                                          : good->ncols - 1 - c;

            if (shape == STEPPED ? row < nrows / times
                                 : row * good->ncols + c <= r * good->ncols + from)
                *cell_of(good, row, c) = dice_below(state, 3) == 0;
            else
                *cell_of(good, row, c) = *cell_of(good, r, from);
            if (shape == BOTH_WAYS && c >= good->ncols / 2)
                *cell_of(good, row, c) = *cell_of(good, row, good->ncols - 1 - c);
        }
    for (int row = nrows / 2; shape == BOTH_WAYS && row < nrows; row++)
        memcpy(cell_of(good, row, 0), cell_of(good, nrows - 1 - row, 0), (size_t)good->ncols);
}

/* A motif mirrored both ways between borders, which stand and are spaced as they like. */
static void make_bordered(struct good *good, uint64_t *state)
{
    struct good motif = {.nrows = roll(state, 7, 17), .ncols = 24};
    int row = 0, below = roll(state, 1, 3), above = roll(state, 1, 3), gap = roll(state, 1, 3);
    int other_gap = roll(state, 1, 3);
    uint8_t border[3][24];

    make_good(&motif, BOTH_WAYS, state);
    memset(good->cell, 0, sizeof good->cell);
    good->ncols = 24;
    for (int i = 0; i < 3; i++) {
        static const int periods[] = {1, 2, 3, 4, 6, 12};
        int period = periods[roll(state, 0, 5)];
        uint32_t marks = dice(state);

        for (int c = 0; c < 24; c++)
            border[i][c] = marks >> c % period & 1;
    }
    for (int i = 0; i < below; i++)
        memcpy(good->cell + row++ * 24, border[i], 24);
    row += gap;
    memcpy(good->cell + row * 24, motif.cell, (size_t)motif.nrows * 24);
    row += motif.nrows + other_gap;
    for (int i = 0; i < above; i++)
        memcpy(good->cell + row++ * 24, border[i], 24);
    good->nrows = row;
}

static int count_alarms(int count)
{
    uint64_t state = 5;
    int alarms = 0;

    for (int i = 0; i < count; i++) {
        struct reader reader;
        static struct good good;

        make_bordered(&good, &state);
        reader_begin(&reader, good.nrows, good.ncols, i % 2);
        memcpy(reader.cell, good.cell, sizeof good.cell);
        alarms += reader_read(&reader)->nslips > 0;
        fixture_end(&reader.work);
    }
    return alarms;
}

/* Of borders some differ by just one row below and above, which then is what is said. Other good
 * charts: test_seeding. */
static void bordered_charts(void)
{
    CU_ASSERT_TRUE(count_alarms(ALARM_CHARTS) <= ALARM_CHARTS / 25);
}

/* Of each chart every slip; what is not named mostly differs by a stitch, or stands at an edge, or
 * in a chart of few unlike rows. A row exchanged can be the same as a row shifted. */
static void slips_are_named(void)
{
    /* per cent of those put in, by kind; rows that are each their own mirror image say nothing of
     * where they stand */
    static const int promised[SHAPES][KINDS] = {{75, 0, 0, 0, 0},
                                                {65, 65, 55, 60, 50},
                                                {90, 75, 60, 65, 50},
                                                {90, 90, 85, 80, 70},
                                                {80, 80, 65, 70, 65}};

    for (int shape = 0; shape < SHAPES; shape++) {
        struct count counts[KINDS] = {{0}};
        uint64_t state = 7;

        for (int i = 0; i < SLIP_CHARTS; i++) {
            struct reader reader;
            static struct good good;

            good.nrows = roll(&state, 12, 24);
            good.ncols = roll(&state, 8, 24);
            make_good(&good, (enum shape)shape, &state);
            reader_begin(&reader, good.nrows, good.ncols, i % 2);
            memcpy(reader.cell, good.cell, sizeof good.cell);
            CU_ASSERT_EQUAL(reader_read(&reader)->nslips, 0);
            slip_everywhere(&reader, &good, counts);
            fixture_end(&reader.work);
        }
        for (int kind = 0; kind < KINDS; kind++) {
            CU_ASSERT_TRUE(counts[kind].put > 50);
            CU_ASSERT_TRUE(100 * counts[kind].named >= promised[shape][kind] * counts[kind].put);
            CU_ASSERT_TRUE(50 * counts[kind].other <= counts[kind].put);
#ifdef MEASURE
            printf("%d %d: put %d named %d other %d noted %d\n", shape, kind, counts[kind].put,
                   counts[kind].named, counts[kind].other, counts[kind].noted);
#endif
        }
    }
}

/* --- the examples -------------------------------------------------------------------------------
 */

/* Put in by the same hands: how many slips of the whole rows of a chart, and how many named.
 * Counted once, so that a change of the rules is seen. The moth and the barley mirror left to right
 * alone; the tile in every way. */
static void slips_in_examples(void)
{
    static const struct {
        const char *path;
        int least[KINDS];
    } chosen[] = {{"examples/barley-socks/barley-socks.ini", {95, 0, 0, 0, 0}},
                  {"examples/moth-cushion/moth-cushion.ini", {100, 0, 0, 0, 0}},
                  {"examples/pinewood-yoke/pinewood-yoke.ini", {100, 0, 0, 0, 0}},
                  {"examples/tile-blanket/tile-blanket.ini", {95, 100, 90, 80, 70}}};

    for (size_t i = 0; i < sizeof chosen / sizeof *chosen; i++) {
        static struct reader reader;
        static struct good good;
        struct work work = fixture_work();
        struct run_checked checked;
        struct count counts[KINDS] = {{0}};
        const struct chart *chart;

        work.tables = tables_load(&work);
        CU_ASSERT_EQUAL_FATAL(run_check(&work, chosen[i].path, &checked), RUN_DONE);
        chart = checked.read->charts[0].chart;
        CU_ASSERT_FATAL(chart->repeat.nrows < SIDE_MAX && chart->repeat.ncols < SIDE_MAX);
        CU_ASSERT_EQUAL(checked.read->charts[0].nslips, 0);
        good.nrows = chart->repeat.nrows;
        good.ncols = chart->repeat.ncols;
        memset(good.cell, 0, sizeof good.cell);
        memcpy(good.cell, chart->repeat.cell, (size_t)(good.nrows * good.ncols));
        reader_begin(&reader, good.nrows, good.ncols, checked.read->charts[0].field.ring_rows);
        slip_everywhere(&reader, &good, counts);
        for (int kind = 0; kind < KINDS; kind++) {
            CU_ASSERT_TRUE(100 * counts[kind].named >= chosen[i].least[kind] * counts[kind].put);
            CU_ASSERT_EQUAL(counts[kind].other, 0);
        }
        fixture_end(&reader.work);
        fixture_end(&work);
    }
}

/* --- by hand
 * ---------------------------------------------------------------------------------------- */

/* Mirrored about stitch 10 and between rows 8 and 9, once upwards. */
static const char *const leaves[] = {
    "..................", "........x.........", ".......xxx........", "......xx.xx......x",
    "x....xx...xx....xx", "xx..xx..x..xx..xx.", ".xxxx..xxx..xxxx..", ".xx..xxxxx..xx..x.",
};

static void draw_leaves(struct good *good)
{
    *good = (struct good){.nrows = 16, .ncols = 18};
    for (int row = 0; row < 16; row++)
        for (int c = 0; c < 18; c++)
            *cell_of(good, row, c) = leaves[row < 8 ? row : 15 - row][17 - c] == 'x';
    for (int row = 0; row < 16; row++) /* stitches 2 to 9 as 18 to 11 */
        for (int c = 1; c < 9; c++)
            *cell_of(good, row, 18 - c) = *cell_of(good, row, c);
}

/* What she reads. */
static const char *unfolded(struct work *work, const char *printed)
{
    char *line = arena_printf(work->arena, "%s", printed);
    size_t to = 0;

    for (size_t i = 0; line[i]; i++) {
        char mark = line[i];

        if (mark == '\n')
            mark = ' ';
        if (mark != ' ' || to == 0 || line[to - 1] != ' ')
            line[to++] = mark;
    }
    line[to] = '\0';
    return line;
}

static void words(void)
{
    static const struct {
        enum row_slip_kind kind;
        int row;
        const char *says[2];
    } cases[] = {
        {ROW_SHIFTED,
         8,
         {"9 looks shifted by one stitch to the left: shifted back", "mirror about stitch 10"}},
        {ROW_EXCHANGED, 4, {"5 looks as if ", "So it would with round 12 with "}},
        {ROW_SWAPPED,
         4,
         {"Rounds 5 and 6 look as if they had changed places",
          "rounds 11 and 12 in each other's place"}},
        {ROW_MISSING,
         4,
         {"A round seems to be missing between rounds 4 and 5", "that goes with round 11"}},
        {ROW_DOUBLED,
         4,
         {"one of rounds 5 and 6 left out, which are the same", "between rounds 12 and 13"}},
    };

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        static struct good good;
        struct reader reader;
        const struct proof_chart *chart;
        const char *printed;

        draw_leaves(&good);
        reader_begin(&reader, good.nrows, good.ncols, false);
        CU_ASSERT_TRUE_FATAL(put_slip(&reader, &good, cases[i].kind, cases[i].row, 1));
        chart = reader_read(&reader);
        CU_ASSERT_TRUE(is_named(chart, &good, cases[i].kind, cases[i].row, 1));
        CU_ASSERT_EQUAL(chart->nfaults, 0);
        printed = unfolded(&reader.work, fixture_printed(&reader.work, false));
#ifdef MEASURE
        puts(printed);
#endif
        for (int k = 0; k < 2; k++)
            CU_ASSERT_PTR_NOT_NULL(strstr(printed, cases[i].says[k]));
        if (cases[i].kind == ROW_EXCHANGED) /* its two yarns, in either order */
            CU_ASSERT_TRUE(strstr(printed, "linen and ink") || strstr(printed, "ink and linen"));
        fixture_end(&reader.work);
    }
}

/* By hand: a bud of 13 stitches, too few for a fault, mirrored about stitch 4 but for round 3. */
static void few_are_placed(void)
{
    static const char *const bud[] = {".......", "...x...", "..xxx..", ".xx.xx.",
                                      "..xx...", "...x...", "......."};
    struct reader reader;
    const struct proof_chart *chart;

    reader_begin(&reader, 7, 7, false);
    for (int i = 0; i < 49; i++)
        reader.cell[i] = bud[6 - i / 7][6 - i % 7] == 'x';
    chart = reader_read(&reader);
    CU_ASSERT_EQUAL(chart->nfaults + chart->nslips, 0);
    CU_ASSERT_TRUE_FATAL(chart->has_mirror_off);
    CU_ASSERT_EQUAL_FATAL(chart->noff, 1);
    CU_ASSERT_EQUAL(chart->off[0].row, 2);
    CU_ASSERT_EQUAL(chart->off[0].column + chart->off[0].partner_column, 2 + 4);
    CU_ASSERT_EQUAL(chart->off[0].partner_row, 2);
    fixture_end(&reader.work);
}

/* By hand, of ten rows: mirrored about their middle row r goes to 9 - r; moved up by three, through the join, to r + 3. */
static void rows_concerned(void)
{
    static const uint8_t cell[10] = {0};
    static const struct {
        struct symmetry symmetry;
        enum row_slip_kind kind;
        const char *concerned; /* row 0 first */
    } cases[] = {
        {{.kind = SYMMETRY_UPSIDE, .row_is_mirrored = true, .row = 9}, ROW_SHIFTED, "..x....x.."},
        {{.kind = SYMMETRY_UPSIDE, .row_is_mirrored = true, .row = 9}, ROW_SWAPPED, "..xx..xx.."},
        {{.kind = SYMMETRY_DROP, .row = 3}, ROW_EXCHANGED, "..x..x...x"},
        {{.kind = SYMMETRY_DROP, .row = 3}, ROW_SWAPPED, "x.xx.xx..x"},
    };
    struct grid grid = {10, 1, cell};
    struct symmetry_field field = {&grid, true, true, 0};

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct row_slip slip = {.kind = cases[i].kind, .row = 2, .symmetry = cases[i].symmetry, .nrows = 10};

        for (int row = 0; row < 10; row++)
            CU_ASSERT_EQUAL(row_slip_concerns(&slip, &field, row), cases[i].concerned[row] == 'x');
    }
}

CU_TestInfo tests_row_slips[] = {
    {"slips are named", slips_are_named}, {"slips in examples", slips_in_examples},
    {"bordered charts", bordered_charts}, {"words", words},
    {"rows concerned", rows_concerned}, {"few are placed", few_are_placed},   CU_TEST_INFO_NULL};
