/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Written charts. Every chart here is drawn by hand, and every expected grid written out.
 */
#include <CUnit/Basic.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "app/disk.h"
#include "base/arena.h"
#include "base/work.h"
#include "read/chart/chart.h"
#include "seen.h"

extern CU_TestInfo tests_chart[];

enum { CREAM, SLATE, CORAL };

static struct work work_create(void)
{
    struct work work = {.arena = arena_create((size_t)1 << 28), .outside = &disk};

    work.diagnostics = diagnostics_create(work.arena);
    return work;
}

/* Cream, slate and coral (sewn on over cream) with these marks; no_stitch NULL: not said. */
static struct project *project_make(struct work *work, const char *cream, const char *slate,
                                    const char *coral, const char *no_stitch)
{
    static const char *const names[] = {"cream", "slate", "coral"};
    const char *const marks[] = {cream, slate, coral};
    struct project *project = arena_alloc(work->arena, 1, sizeof *project);

    project->nyarns = 3;
    project->yarns = arena_alloc(work->arena, 3, sizeof *project->yarns);
    for (int i = 0; i < 3; i++) {
        project->yarns[i].name = names[i];
        project->yarns[i].mark = (struct given_text){marks[i], {0}};
    }
    project->yarns[CORAL].duplicate_over = (struct given_yarn){CREAM, "cream", {0}};
    project->no_stitch = (struct given_text){no_stitch ? no_stitch : "-", {0}};
    return project;
}

static const struct chart *read_with(struct work *work, const struct project *project,
                                     const char *text)
{
    return chart_read_text(work, project, source_from_text(work, "test.chart", text));
}

static const struct chart *read_chart(struct work *work, const char *text)
{
    return read_with(work, project_make(work, ".", "x", "o", NULL), text);
}

/* Cell by cell against rows drawn top first with the marks . x o -. */
static void check_grid(const struct grid *grid, int nrows, const char *const *rows)
{
    static const char marks[] = ".xo";

    CU_ASSERT_EQUAL_FATAL(grid->nrows, nrows);
    for (int row = 0; row < nrows; row++) {
        const char *drawn = rows[nrows - 1 - row];

        CU_ASSERT_EQUAL_FATAL(grid->ncols, (int)strlen(drawn));
        for (int col = 0; col < grid->ncols; col++) {
            uint8_t cell = grid->cell[row * grid->ncols + col];
            char mark = cell == GRID_NO_STITCH ? '-' : cell < 3 ? marks[cell] : '?';

            CU_ASSERT_EQUAL(mark, drawn[grid->ncols - 1 - col]);
        }
    }
}

#define CHECK_GRID(grid, ...)                                                                      \
    check_grid(grid, (int)(sizeof((const char *[]){__VA_ARGS__}) / sizeof(const char *)),          \
               (const char *[]){__VA_ARGS__})

/* --- what reads ---------------------------------------------------------------------- */

/* Row 0 is the bottom line, column 0 the rightmost mark: counted by hand. */
static void order_of_squares(void)
{
    struct work work = work_create();
    const struct chart *chart = read_chart(&work, "..x\n.xx\nxo.\n");

    CU_ASSERT_FATAL(chart != NULL);
    CU_ASSERT_EQUAL(chart->repeat.nrows, 3);
    CU_ASSERT_EQUAL(chart->repeat.ncols, 3);
    CU_ASSERT_EQUAL(chart->repeat.cell[0], CREAM); /* bottom row, first to be knitted */
    CU_ASSERT_EQUAL(chart->repeat.cell[1], CORAL); /* under its own index */
    CU_ASSERT_EQUAL(chart->repeat.cell[2], SLATE);
    CU_ASSERT_EQUAL(chart->repeat.cell[3], SLATE);
    CU_ASSERT_EQUAL(chart->repeat.cell[6], SLATE);
    CU_ASSERT_EQUAL(chart->repeat.cell[8], CREAM);
    CU_ASSERT_EQUAL(chart->left.ncols, 0);
    CU_ASSERT_EQUAL(chart->right.ncols, 0);
    CU_ASSERT_STRING_EQUAL(chart->name, "test.chart");
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    arena_destroy(work.arena);
}

static void writing_tolerated(void)
{
    static const char *const texts[] = {
        "..x\nxo.\n",
        "..x\nxo.",       /* no last newline */
        "..x\r\nxo.\r\n", /* lines end in CR LF */
        "; a comment\n\n..x\n   \n ; another\nxo.\n\n",
        ". . x\nx\to .\n", /* white space between marks */
        "  ..x  \n\txo.\t\n",
        "2 ..x\n1 xo.\n", /* row numbers at the left */
        "..x 2\nxo. 1\n",
        "12 . . x   12\n11 x o . 11\n",
        "..x ; the top\nxo.;the bottom\n", /* a comment behind a row */
        "..x\nxo\xc2\xa0.\n",              /* a space as word processors write it */
    };

    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        struct work work = work_create();
        const struct chart *chart = read_chart(&work, texts[i]);

        CU_ASSERT_FATAL(chart != NULL);
        CHECK_GRID(&chart->repeat, "..x", "xo.");
        CU_ASSERT_EQUAL(seen_all(&work), 0);
        arena_destroy(work.arena);
    }
}

static void squares_without_stitch(void)
{
    struct work work = work_create();
    const struct chart *chart = read_chart(&work, "--x--\n-xxx-\n..x..\n");

    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, "--x--", "-xxx-", "..x..");
    chart = read_with(&work, project_make(&work, ".", "x", "o", "#"), "##x\n.x#\n");
    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, "--x", ".x-");
    /* a yarn that claims the mark keeps it where no other was asked for */
    chart = read_with(&work, project_make(&work, "-", "x", "o", NULL), "--x\n-x-\n");
    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, "..x", ".x.");
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    arena_destroy(work.arena);
}

static void marks_of_several_bytes(void)
{
    struct work work = work_create();
    struct project *project =
        project_make(&work, "\xc2\xb7", "\xe2\x96\xa0", "\xf0\x9f\x90\x91", "\xe2\x97\x8b");
    const struct chart *chart =
        read_with(&work, project,
                  "2 \xc2\xb7\xe2\x96\xa0\xf0\x9f\x90\x91\n1 \xe2\x97\x8b \xe2\x96\xa0\xc2\xb7\n");

    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, ".xo", "-x.");
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    arena_destroy(work.arena);
}

/* Digits as marks: nothing is a row number then. */
static void digits_as_marks(void)
{
    struct work work = work_create();
    struct project *project = project_make(&work, "0", "1", NULL, NULL);
    const struct chart *chart = read_with(&work, project, "01 1\n1 00\n");

    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, ".xx", "x..");
    arena_destroy(work.arena);
}

static void side_stitches(void)
{
    struct work work = work_create();
    const struct chart *chart = read_chart(&work, "3 .. | x.xx | o\n2 xx|xxx.|.\n1 .x|....|x 1\n");

    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->left, "..", "xx", ".x");
    CHECK_GRID(&chart->repeat, "x.xx", "xxx.", "....");
    CHECK_GRID(&chart->right, "o", ".", "x");
    chart = read_chart(&work, "| x. |.\n|.x|x\n");
    CU_ASSERT_FATAL(chart != NULL);
    CU_ASSERT_EQUAL(chart->left.ncols, 0);
    CU_ASSERT_EQUAL(chart->left.nrows, 2);
    CHECK_GRID(&chart->repeat, "x.", ".x");
    CHECK_GRID(&chart->right, ".", "x");
    chart = read_chart(&work, "|x.|\n|.x|\n");
    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, "x.", ".x");
    CU_ASSERT_EQUAL(chart->left.ncols + chart->right.ncols, 0);
    CU_ASSERT_EQUAL(seen_all(&work), 0);
    arena_destroy(work.arena);
}

/* Every way to draw 2 by 3 squares in two yarns and no stitch: 729, read back exactly. */
static void all_small_charts(void)
{
    static const char marks[] = ".x-";
    struct work work = work_create();
    struct project *project = project_make(&work, ".", "x", "o", NULL);

    for (int n = 0; n < 729; n++) {
        char text[] = "123\n456\n", top[4] = "", bottom[4] = "";
        int rest = n;
        const struct chart *chart;

        for (int i = 0; i < 6; i++, rest /= 3)
            text[i + i / 3] = marks[rest % 3];
        memcpy(top, text, 3);
        memcpy(bottom, text + 4, 3);
        chart = read_with(&work, project, text);
        if (strcmp(top, "---") == 0 || strcmp(bottom, "---") == 0) {
            CU_ASSERT(chart == NULL);
            continue;
        }
        CU_ASSERT_FATAL(chart != NULL);
        CHECK_GRID(&chart->repeat, top, bottom);
    }
    arena_destroy(work.arena);
}

/* --- what does not ------------------------------------------------------------------- */

struct refusal {
    const char *text;
    enum diag_code code;
    const char *words;
    int line, column;
};

static const struct refusal refusals[] = {
    /* nothing there */
    {"", DIAG_CHART_EMPTY, "no rows", 0, 1},
    {"; a comment only\n\n", DIAG_CHART_EMPTY, "no rows", 0, 1},
    {"...\n---\nx.x\n", DIAG_CHART_EMPTY, "Row 2 has no stitch.", 2, 1},
    {"..|...|.\nxx|---|.\n", DIAG_CHART_EMPTY, "Row 1 has no stitch between its bars.", 2, 1},
    {"..||.\n", DIAG_CHART_EMPTY, "Row 1 has no stitch between its bars.", 1, 1},
    /* ragged: line 2 of 4 is row 3 from the bottom */
    {"....\n...\nx..x\n....\n", DIAG_CHART_RAGGED, "Row 3 has 3 stitches; the others have 4.", 2,
     1},
    {"....\n...\nx..x\n....\n", DIAG_CHART_RAGGED, "Put in 1 mark;", 2, 1},
    {"..\n.x.x.\nxx\n", DIAG_CHART_RAGGED, "Row 2 has 5 stitches; the others have 2.", 2, 1},
    {"..\n.x.x.\nxx\n", DIAG_CHART_RAGGED, "Take out 3 marks.", 2, 1},
    {"...\n .x\n", DIAG_CHART_RAGGED, "Row 1 has 2 stitches; the other has 3.", 2, 2},
    {"3 ...\n2 .x\n1 x..\n", DIAG_CHART_RAGGED, "Row 2 has 2 stitches", 2, 3},
    {".\n...\n...\n...\n....\n", DIAG_CHART_RAGGED, "Row 5 has 1 stitch; most rows have 3.", 1, 1},
    {".\n...\n...\n...\n....\n", DIAG_CHART_RAGGED, "Row 1 has 4 stitches; most", 5, 1},
    {".\n..\n...\n....\n....\n", DIAG_CHART_RAGGED,
     "Row 3 has 3 stitches; the commonest number is 4.", 3, 1},
    /* bars */
    {"..|x.x\n", DIAG_CHART_BARS, "Row 1 has one bar only.", 1, 1},
    {"..|x.x\n..|xxx\n", DIAG_CHART_BARS, "Every row has one bar only.", 1, 1},
    {".|.|x\n.|xx\n.|x|.\n", DIAG_CHART_BARS, "Row 2 has one bar only.", 2, 1},
    {".|.|x\n.|xx\n.|x|.\n", DIAG_CHART_BARS, "`left | repeat | right`", 2, 1},
    {".|.|x\n|.|x|.\n.|x|.\n", DIAG_CHART_BARS, "Row 2 has 3 bars.", 2, 1},
    {".|.|x\n.|.|.\nx..\n", DIAG_CHART_BARS, "Row 1 has no bars, and other rows have.", 3, 1},
    {"...\n.|.|.\nx..\n", DIAG_CHART_BARS, "Row 2 has two bars, and other rows have none.", 2, 1},
    {"x.x.\n.|.|.x\n", DIAG_CHART_BARS, "Row 2 has no bars, and other rows have.", 1, 1},
    {".|...|x\n..|..|x\n.|xxx|.\n", DIAG_CHART_BARS,
     "Row 2 has 2 side stitches at the left and 1 at the right; most rows have 1 and 1.", 2, 1},
    /* marks: the column in the line from the left, in the words from the right */
    {"..x.\n.X..\n", DIAG_CHART_MARK, "mark X (row 1 from the bottom, column 3 from the right)", 2,
     2},
    {"..x.\n.X..\n", DIAG_CHART_MARK, "Did you mean x (slate)?", 2, 2},
    {"2 .Q. \n1 Q.Q\n", DIAG_CHART_MARK,
     "mark Q (row 2 from the bottom, column 2 from the right; it stands in the chart 3 times)", 1,
     4},
    {"2 .Q. \n1 Q.Q\n", DIAG_CHART_MARK,
     "The marks are . (cream), x (slate), o (coral) and - (no stitch).", 1, 4},
    {"2 .Q. \n1 Q.Q\n", DIAG_CHART_MARK, "`mark = Q`", 1, 4},
    {". Q x .\n", DIAG_CHART_MARK, "column 3 from the right)", 1, 3},
    {". x\xc3\xa9.\n", DIAG_CHART_MARK,
     "mark \xc3\xa9 (row 1 from the bottom, column 2 from the right)", 1, 4},
    {"\xc3\xa9x?.\n", DIAG_CHART_MARK, "mark ? (row 1 from the bottom, column 2", 1, 3},
    {"12...\n11...\n", DIAG_CHART_MARK, "set the number off", 1, 1},
    {"x?|...|..\n..|...|..\n", DIAG_CHART_MARK,
     "column 1 from the right of the side stitches at the left", 1, 2},
    {"..|...|?.\n..|...|..\n", DIAG_CHART_MARK,
     "column 2 from the right of the side stitches at the right", 1, 8},
    {"..|?..|..\n..|...|..\n", DIAG_CHART_MARK, "column 3 from the right)", 1, 4},
    {"# waves\n..x\nx..\n", DIAG_CHART_MARK, "start it with ; instead", 1, 1},
};

static void refusals_with_place(void)
{
    for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
        struct work work = work_create();

        CU_ASSERT(read_chart(&work, refusals[i].text) == NULL);
        CU_ASSERT(seen_at(&work, refusals[i].code, refusals[i].words, refusals[i].line,
                          refusals[i].column));
        arena_destroy(work.arena);
    }
}

/* One fault of each kind in one chart, all told at once; each mark once. */
static void faults_all_at_once(void)
{
    struct work work = work_create();
    const struct chart *chart = read_chart(&work, "x.|.xx.|..\n"
                                                  "xQ|.xx.|..\n"
                                                  "xx|.xxQ|.\n"
                                                  "x.|.Xx.|..\n"
                                                  "x..|.xx|..\n"
                                                  "..|....|Q.\n"
                                                  "..|----|..\n"
                                                  "..|......\n");

    CU_ASSERT(chart == NULL);
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_CHART_MARK), 2);
    CU_ASSERT(seen_at(&work, DIAG_CHART_MARK, "mark Q (row 7", 2, 2));
    CU_ASSERT(seen_at(&work, DIAG_CHART_MARK, "3 times", 2, 2));
    CU_ASSERT(seen_at(&work, DIAG_CHART_MARK, "mark X (row 5", 4, 5));
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_CHART_RAGGED), 1);
    CU_ASSERT(seen_at(&work, DIAG_CHART_RAGGED, "Row 6 has 7 stitches", 3, 1));
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_CHART_BARS), 2);
    CU_ASSERT(seen_at(&work, DIAG_CHART_BARS, "Row 4 has 3 side stitches", 5, 1));
    CU_ASSERT(seen_at(&work, DIAG_CHART_BARS, "Row 1 has one bar", 8, 1));
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_CHART_EMPTY), 1);
    CU_ASSERT(seen_at(&work, DIAG_CHART_EMPTY, "Row 2", 7, 1));
    CU_ASSERT_EQUAL(seen_all(&work), 6);
    arena_destroy(work.arena);
}

/* A letter to a friend in place of a chart: few messages, not one a letter. */
static void not_a_chart(void)
{
    struct work work = work_create();
    int count;

    CU_ASSERT(read_chart(&work, "Dear Ann, the quick brown fox jumped over the lazy dog\n") ==
              NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_MARK, "more squares have marks") != NULL);
    diagnostics_sorted(work.diagnostics, &count);
    CU_ASSERT_EQUAL(count, 11);
    arena_destroy(work.arena);
}

static void no_yarn_has_a_mark(void)
{
    struct work work = work_create();
    struct project *project = project_make(&work, NULL, NULL, NULL, NULL);

    CU_ASSERT(read_with(&work, project, "x.x\n.x.\n") == NULL);
    CU_ASSERT_EQUAL(seen_all(&work), 1);
    CU_ASSERT(seen_find(&work, DIAG_CHART_MARK, "No yarn has a mark") != NULL);
    arena_destroy(work.arena);
}

/* ncols by nrows of cream, with a newline each. */
static char *text_of_size(struct work *work, size_t ncols, size_t nrows)
{
    char *text = arena_alloc(work->arena, (ncols + 1) * nrows + 1, 1);

    memset(text, '.', (ncols + 1) * nrows);
    for (size_t row = 0; row < nrows; row++)
        text[(ncols + 1) * row + ncols] = '\n';
    return text;
}

static void sizes_at_their_limits(void)
{
    struct work work = work_create();
    const struct chart *chart = read_chart(&work, text_of_size(&work, GRID_SIDE_MAX, 3));

    CU_ASSERT_FATAL(chart != NULL);
    CU_ASSERT_EQUAL(chart->repeat.ncols, GRID_SIDE_MAX);
    chart = read_chart(&work, text_of_size(&work, 3, GRID_SIDE_MAX));
    CU_ASSERT_FATAL(chart != NULL);
    CU_ASSERT_EQUAL(chart->repeat.nrows, GRID_SIDE_MAX);
    CU_ASSERT(read_chart(&work, text_of_size(&work, 3, GRID_SIDE_MAX + 1)) == NULL);
    CU_ASSERT(seen_at(&work, DIAG_CHART_SIZE, "more than 5000 rows", GRID_SIDE_MAX + 1, 1));
    CU_ASSERT(read_chart(&work, text_of_size(&work, GRID_SIDE_MAX + 1, 3)) == NULL);
    CU_ASSERT(seen_at(&work, DIAG_CHART_SIZE, "Row 3 has 5001 stitches", 1, 1));
    CU_ASSERT_EQUAL(seen_all(&work), 2);
    arena_destroy(work.arena);
}

/* Sums over a large chart, against sums while writing it. */
static void large_chart(void)
{
    enum { SIDE = 1500 };
    struct work work = work_create();
    char *text = text_of_size(&work, SIDE, SIDE);
    const struct chart *chart;
    long slate = 0, found = 0, weighed = 0, weight = 0;

    for (long line = 0; line < SIDE; line++)
        for (long x = 0; x < SIDE; x++)
            if ((line * line + 7 * x) % 11 < 4) {
                text[line * (SIDE + 1) + x] = 'x';
                slate++;
                weighed += (SIDE - 1 - line) * 3 + (SIDE - 1 - x);
            }
    chart = read_chart(&work, text);
    CU_ASSERT_FATAL(chart != NULL);
    for (long row = 0; row < SIDE; row++)
        for (long col = 0; col < SIDE; col++)
            if (chart->repeat.cell[row * SIDE + col] == SLATE) {
                found++;
                weight += row * 3 + col;
            }
    CU_ASSERT_EQUAL(found, slate);
    CU_ASSERT_EQUAL(weight, weighed);
    arena_destroy(work.arena);
}

/* --- charts of a band ---------------------------------------------------------------- */

struct folder {
    char path[32];
    struct work work;
    struct project *project;
    struct part band;
};

static void folder_open(struct folder *f)
{
    memset(f, 0, sizeof *f);
    strcpy(f->path, "/tmp/strandwise-XXXXXX");
    CU_ASSERT_FATAL(mkdtemp(f->path) != NULL);
    f->work = work_create();
    f->project = project_make(&f->work, ".", "x", "o", NULL);
    f->project->source = source_from_text(
        &f->work, arena_printf(f->work.arena, "%s/socks.ini", f->path), "chart = ripple\n");
}

static void file_put(struct folder *f, const char *name, const char *text)
{
    FILE *file = fopen(arena_printf(f->work.arena, "%s/%s", f->path, name), "w");

    CU_ASSERT_FATAL(file != NULL);
    fputs(text, file);
    fclose(file);
}

static void file_remove(struct folder *f, const char *name)
{
    remove(arena_printf(f->work.arena, "%s/%s", f->path, name));
}

static void folder_close(struct folder *f)
{
    rmdir(f->path);
    arena_destroy(f->work.arena);
}

static const struct chart *band_read(struct folder *f, const char *a, const char *b, const char *c)
{
    const char *const names[] = {a, b, c};

    f->band.ncharts = 0;
    for (int i = 0; i < 3 && names[i]; i++)
        f->band.chart[f->band.ncharts++] =
            (struct given_text){names[i], {f->project->source, 1, 9 + 10 * i, 3}};
    return chart_read_band(&f->work, f->project, &f->band);
}

static void charts_found(void)
{
    struct folder f;
    const struct chart *chart;

    folder_open(&f);
    file_put(&f, "ripple.chart", "x.\n");
    file_put(&f, "reed", ".x\n");
    file_put(&f, "reed.chart", "..\n");
    chart = band_read(&f, "ripple", NULL, NULL);
    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, "x.");
    CU_ASSERT_STRING_EQUAL(chart->name, "ripple");
    CU_ASSERT_EQUAL(chart->at.column, 9);
    chart = band_read(&f, "ripple.chart", NULL, NULL);
    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, "x.");
    chart = band_read(&f, "reed", NULL, NULL); /* the name as it stands comes first */
    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, ".x");
    chart = band_read(&f, arena_printf(f.work.arena, "%s/reed.chart", f.path), NULL, NULL);
    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, "..");
    CU_ASSERT_EQUAL(seen_all(&f.work), 0);
    file_remove(&f, "ripple.chart");
    file_remove(&f, "reed");
    file_remove(&f, "reed.chart");
    folder_close(&f);
}

static void charts_not_found(void)
{
    struct folder f;

    folder_open(&f);
    CU_ASSERT(band_read(&f, "rippel", "rain", NULL) == NULL);
    CU_ASSERT_EQUAL(seen_count(&f.work, DIAG_FILE_MISSING), 2);
    CU_ASSERT(seen_at(&f.work, DIAG_FILE_MISSING, "/rippel, nor one with .chart", 1, 9));
    CU_ASSERT(seen_at(&f.work, DIAG_FILE_MISSING, "/rain, nor", 1, 19));
    mkdir(arena_printf(f.work.arena, "%s/charts", f.path), 0700);
    CU_ASSERT(band_read(&f, "charts", NULL, NULL) == NULL);
    CU_ASSERT_EQUAL(seen_count(&f.work, DIAG_FILE_KIND), 1);
    file_remove(&f, "charts");
    file_put(&f, "boat.png", "not a picture\n");
    CU_ASSERT(band_read(&f, "boat", NULL, NULL) == NULL);
    CU_ASSERT(seen_at(&f.work, DIAG_CHART_IMAGE, "is not a PNG picture", 1, 9));
    file_put(&f, "photo.chart", "\xff\xd8\xff\xe0 JFIF");
    CU_ASSERT(band_read(&f, "photo", NULL, NULL) == NULL);
    CU_ASSERT_EQUAL(seen_count(&f.work, DIAG_CHART_IMAGE), 2);
    file_remove(&f, "boat.png");
    file_remove(&f, "photo.chart");
    folder_close(&f);
}

static void charts_side_by_side(void)
{
    struct folder f;
    const struct chart *chart;

    folder_open(&f);
    file_put(&f, "panel.chart", "x..\n.xo\n");
    file_put(&f, "stripe.chart", "-x\nxx\n");
    chart = band_read(&f, "panel", "stripe", "panel");
    CU_ASSERT_FATAL(chart != NULL);
    /* the first named is knitted first: it stands at the right */
    CHECK_GRID(&chart->repeat, "x..-xx..", ".xoxx.xo");
    CU_ASSERT_STRING_EQUAL(chart->name, "panel, stripe, panel");
    CU_ASSERT_EQUAL(chart->left.ncols + chart->right.ncols, 0);
    chart = band_read(&f, "stripe", "panel", NULL);
    CU_ASSERT_FATAL(chart != NULL);
    CHECK_GRID(&chart->repeat, "x..-x", ".xoxx");
    CU_ASSERT_EQUAL(seen_all(&f.work), 0);
    file_remove(&f, "panel.chart");
    file_remove(&f, "stripe.chart");
    folder_close(&f);
}

static void charts_that_do_not_join(void)
{
    struct folder f;

    folder_open(&f);
    file_put(&f, "panel.chart", "x..\n.xo\n");
    file_put(&f, "stripe.chart", "x\nx\nx\n");
    file_put(&f, "sides.chart", ".|x|.\n.|x|.\n");
    CU_ASSERT(band_read(&f, "panel", "stripe", "panel") == NULL);
    CU_ASSERT(seen_at(&f.work, DIAG_CHART_JOIN, "panel 2, stripe 3.", 1, 19));
    CU_ASSERT(seen_find(&f.work, DIAG_CHART_JOIN, "2 rows, say") != NULL);
    CU_ASSERT(band_read(&f, "panel", "sides", NULL) == NULL);
    CU_ASSERT(seen_at(&f.work, DIAG_CHART_JOIN, "sides has side stitches", 1, 19));
    CU_ASSERT_EQUAL(seen_all(&f.work), 2);
    CU_ASSERT(band_read(&f, "stripe", "panel", NULL) == NULL);
    CU_ASSERT(seen_at(&f.work, DIAG_CHART_JOIN, "3 rows, say", 1, 19)); /* as the first */
    CU_ASSERT(band_read(&f, "sides", NULL, NULL) != NULL);
    f.band.across = (struct given_whole){.value = 3, .said = true, .at = {f.project->source, 1, 1, 1}};
    CU_ASSERT(band_read(&f, "panel", NULL, NULL) == NULL);
    CU_ASSERT(seen_at(&f.work, DIAG_KEYS_CLASH, "`across` is for pictures", 1, 1));
    file_remove(&f, "panel.chart");
    file_remove(&f, "stripe.chart");
    file_remove(&f, "sides.chart");
    folder_close(&f);
}

/* Together too wide, though each by itself is not. */
static void charts_too_wide_together(void)
{
    struct folder f;

    folder_open(&f);
    file_put(&f, "broad.chart", text_of_size(&f.work, 2501, 2));
    CU_ASSERT(band_read(&f, "broad", NULL, NULL) != NULL);
    CU_ASSERT(band_read(&f, "broad", "broad", NULL) == NULL);
    CU_ASSERT(seen_at(&f.work, DIAG_CHART_SIZE, "5002 stitches wide", 1, 9));
    file_remove(&f, "broad.chart");
    folder_close(&f);
}

CU_TestInfo tests_chart[] = {
    {"order of squares", order_of_squares},
    {"ways of writing that are tolerated", writing_tolerated},
    {"squares without a stitch", squares_without_stitch},
    {"marks of several bytes", marks_of_several_bytes},
    {"digits as marks", digits_as_marks},
    {"side stitches between bars", side_stitches},
    {"all charts of 3 by 2", all_small_charts},
    {"each fault, with its place", refusals_with_place},
    {"faults all at once", faults_all_at_once},
    {"a letter instead of a chart", not_a_chart},
    {"no yarn has a mark", no_yarn_has_a_mark},
    {"sizes at their limits", sizes_at_their_limits},
    {"a large chart", large_chart},
    {"where charts are looked for", charts_found},
    {"charts that are not there", charts_not_found},
    {"charts side by side", charts_side_by_side},
    {"charts that do not go together", charts_that_do_not_join},
    {"charts too wide together", charts_too_wide_together},
    CU_TEST_INFO_NULL,
};
