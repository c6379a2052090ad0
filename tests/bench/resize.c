/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Charts redrawn for gauges from 0.6 to 1.6 of the old: what differs from the true drawing against
 * the least there can be without any condition, and what is not as it was. Beside it what general
 * image scaling makes of the same charts, where ImageMagick's `convert` is there.
 *
 *   resize demo|fresh [SCRATCH-FOLDER FILTER...]
 *
 * demo: the charts of examples/ and tests/projects/; fresh: drawn by dice, never looked at while the
 * search was made. Run from the project's folder. Nothing is asserted.
 */
#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "run.h"
#include "app/disk.h"
#include "base/arena.h"
#include "base/diag.h"
#include "base/tables.h"
#include "../unit/redraw/judged.h"

enum { FRESH = 24, FILTERS_MAX = 8, GAUGES = 10, STITCHES = 8 /* to the inch, all charts; an inch is left loose */ };

static const int tenths[GAUGES] = {6, 7, 8, 9, 11, 12, 13, 14, 15, 16};

struct tally {
    int charts, within, unbroken, symmetrical, floats_kept, all;
    int lines, parts, floats, lost;
};

static struct tally sums[FILTERS_MAX + 1][2]; /* ours, then by filter; coarser, finer */
static char **filters;
static int nfilters;
static const char *scratch;

/* --- other people's scaling ------------------------------------------------------------ */

static void write_picture(const char *path, const struct grid *grid, int ncolours)
{
    FILE *file = fopen(path, "wb");

    if (!file)
        exit(2);
    fprintf(file, "P5\n%d %d\n255\n", grid->ncols, grid->nrows);
    for (int i = 0; i < grid->ncols * grid->nrows; i++)
        fputc(grid->cell[i] * 255 / (ncolours > 1 ? ncolours - 1 : 1), file);
    fclose(file);
}

/* Nearest of evenly spaced greys. */
static void read_picture(const char *path, uint8_t *cell, int n, int ncolours)
{
    FILE *file = fopen(path, "rb");
    int width, height, most;

    if (!file || fscanf(file, "P5 %d %d %d", &width, &height, &most) != 3 || width * height != n)
        exit(2);
    fgetc(file);
    for (int i = 0; i < n; i++)
        cell[i] = (uint8_t)((fgetc(file) * (ncolours - 1) * 2 + most) / (2 * most));
    fclose(file);
}

/* Greys are colours from 0, which are the yarn numbers here. */
static void scale_otherwise(const struct resize_question *question, const char *filter, uint8_t *cell)
{
    char in[512], out[512], command[2048];
    int most = 0;

    for (int i = 0; i < question->old->ncols * question->old->nrows; i++)
        if (question->old->cell[i] > most)
            most = question->old->cell[i];
    snprintf(in, sizeof in, "%s/in.pgm", scratch);
    snprintf(out, sizeof out, "%s/out.pgm", scratch);
    write_picture(in, question->old, most + 1);
    snprintf(command, sizeof command,
             "convert '%s' -colorspace gray -virtual-pixel tile -filter %s -resize '%dx%d!' -depth 8 '%s'", in,
             filter, question->ncols, question->nrows, out);
    if (system(command) != 0)
        exit(2);
    read_picture(out, cell, question->ncols * question->nrows, most + 1);
}

/* --- one chart at one gauge ------------------------------------------------------------ */

static int count_symmetries(const struct resize_question *question, const struct resize_answer *answer,
                            const uint8_t *cell)
{
    struct grid grid = {question->nrows, question->ncols, cell};
    struct motif found = motif_find(&grid, question->rows_are_ring);
    int kept = 0;

    for (int i = 0; i < answer->motif.nmoves; i++)
        for (int j = 0; j < found.nmoves; j++)
            if (found.move[j].kind == answer->motif.move[i].kind ||
                (answer->motif.move[i].kind == SYMMETRY_TURN && found.move[j].kind == SYMMETRY_UPSIDE)) {
                kept++;
                break;
            }
    return kept;
}

struct outcome {
    struct resize_faults faults;
    int64_t area;
    int kept;
    bool within;
};

static struct outcome judge(struct work *work, const struct resize_question *question,
                            const struct resize_answer *answer, const uint8_t *cell, struct tally *sum)
{
    struct outcome outcome;
    int64_t most = answer->bound * 115 / 100,
            hundredth = answer->bound + answer->square * question->ncols * question->nrows / 100;
    int drawing;

    judge_chart(work, question, cell, &outcome.faults, &outcome.area);
    outcome.kept = count_symmetries(question, answer, cell);
    outcome.within = outcome.area <= (most > hundredth ? most : hundredth);
    drawing = resize_faults_of_drawing(&outcome.faults);
    sum->charts++;
    sum->within += outcome.within;
    sum->unbroken += drawing == 0;
    sum->symmetrical += outcome.kept == answer->motif.nmoves;
    sum->floats_kept += outcome.faults.floats == 0;
    sum->all += outcome.within && drawing == 0 && outcome.kept == answer->motif.nmoves &&
                outcome.faults.floats == 0;
    sum->lines += outcome.faults.lines;
    sum->parts += outcome.faults.split + outcome.faults.joined;
    sum->lost += outcome.faults.lost;
    sum->floats += outcome.faults.floats;
    return outcome;
}

static void report(const char *name, int gauge, const struct resize_question *question,
                   const struct resize_answer *answer, const struct outcome *outcome, double seconds)
{
    double whole = (double)answer->square * question->ncols * question->nrows;
    const struct resize_faults *faults = &outcome->faults;

    printf("%-18s %d.%d %3d x %-3d %3d x %-3d %6.2f %6.2f %6.3f %s  %d/%d  %3d %3d %3d %3d %3d %6.2f s\n", name,
           gauge / 10, gauge % 10, question->old->ncols, question->old->nrows, question->ncols,
           question->nrows, 100.0 * (double)answer->bound / whole, 100.0 * (double)outcome->area / whole,
           answer->bound > 0 ? (double)outcome->area / (double)answer->bound : 1.0,
           outcome->within ? "   " : "far", outcome->kept, answer->motif.nmoves, faults->lines, faults->split,
           faults->joined, faults->lost, faults->floats, seconds);
}

static double now(void)
{
    struct timespec at;

    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &at);
    return (double)at.tv_sec + (double)at.tv_nsec / 1e9;
}

static void redraw(struct work *work, const char *name, const struct grid *old, bool ring,
                   const uint8_t *knitted_as, int gauge)
{
    struct resize_question question = {.old = old, .rows_are_ring = ring, .old_leave_sts = STITCHES,
                                       .leave_sts = STITCHES * gauge / 10};
    struct rational ratio = rational_make(gauge, 10);
    const struct resize_answer *answer;
    uint8_t *cell;
    struct outcome outcome;
    double start = now(), seconds;

    memcpy(question.knitted_as, knitted_as, sizeof question.knitted_as);
    resize_counts(old, ring, rational_mul(rational_whole(old->ncols), ratio),
                  rational_mul(rational_whole(old->nrows), ratio), &question.ncols, &question.nrows);
    answer = resize_chart(work, &question);
    seconds = now() - start;
    outcome = judge(work, &question, answer, answer->chart.cell, &sums[0][gauge > 10]);
    report(name, gauge, &question, answer, &outcome, seconds);
    cell = arena_alloc(work->arena, (size_t)question.ncols * (size_t)question.nrows, 1);
    for (int i = 0; i < nfilters; i++) {
        scale_otherwise(&question, filters[i], cell);
        judge(work, &question, answer, cell, &sums[i + 1][gauge > 10]);
    }
}

/* --- charts ------------------------------------------------------------------------------ */

static struct work begin(void)
{
    struct work work = {.arena = arena_create((size_t)2 << 30), .outside = &disk};

    if (!work.arena)
        exit(2);
    work.diagnostics = diagnostics_create(work.arena);
    work.tables = tables_load(&work);
    return work;
}

static void demo_project(const char *path)
{
    for (int gauge = 0; gauge < GAUGES; gauge++) {
        struct work work = begin();
        const struct plan *plan = NULL;

        if (run_plan(&work, path, &plan) != RUN_DONE)
            exit(2);
        for (int i = 0; i < plan->piece.nbands; i++) {
            const struct plan_band *band = &plan->piece.bands[i];
            uint8_t knitted_as[GRID_YARNS_MAX];

            if (getenv("ONLY") && !strstr(getenv("ONLY"), band->name))
                continue;
            for (int y = 0; y < GRID_YARNS_MAX; y++)
                knitted_as[y] = (uint8_t)(y < plan->piece.nyarns && plan->piece.yarns[y].over >= 0
                                              ? plan->piece.yarns[y].over
                                              : y);
            redraw(&work, band->name, &band->drawn, band->upwards > 1, knitted_as, tenths[gauge]);
        }
        arena_destroy(work.arena);
    }
}

static uint64_t dice_state;

static int dice_below(int limit)
{
    dice_state = dice_state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int)((dice_state >> 33) % (uint64_t)limit);
}

/* A stitch with its partners: kind 0 mirrored, 1 both ways, 2 turned, 3 mirrored and half-dropped. */
static void put(uint8_t *cell, int ncols, int nrows, int kind, int c, int r, uint8_t yarn)
{
    int drops = kind == 3 ? 2 : 1;

    for (int drop = 0; drop < drops; drop++) {
        int col = ((c + drop * ncols / 2) % ncols + ncols) % ncols;
        int row = ((r + drop * nrows / 2) % nrows + nrows) % nrows;

        cell[row * ncols + col] = yarn;
        if (kind != 2)
            cell[row * ncols + ncols - 1 - col] = yarn;
        if (kind == 1)
            cell[(nrows - 1 - row) * ncols + col] = yarn;
        if (kind == 1 || kind == 2)
            cell[(nrows - 1 - row) * ncols + ncols - 1 - col] = yarn;
    }
}

static void put_line(uint8_t *cell, int ncols, int nrows, int kind, uint8_t yarn)
{
    static const int ways[4][2] = {{1, 0}, {0, 1}, {1, 1}, {1, -1}};
    int c = dice_below(ncols), r = dice_below(nrows), way = dice_below(4), length = 3 + dice_below(8);

    for (int i = 0; i < length; i++)
        put(cell, ncols, nrows, kind, c + i * ways[way][0], (r + i * ways[way][1] + nrows) % nrows, yarn);
}

static void put_lozenge(uint8_t *cell, int ncols, int nrows, int kind, uint8_t yarn, bool hollow)
{
    int c = dice_below(ncols), r = dice_below(nrows), size = 2 + dice_below(4);

    for (int up = -size; up <= size; up++)
        for (int side = -size; side <= size; side++)
            if (abs(up) + abs(side) == size || (!hollow && abs(up) + abs(side) < size))
                put(cell, ncols, nrows, kind, c + side + ncols, r + up + nrows, yarn);
}

static void fresh_charts(void)
{
    for (int number = 0; number < FRESH; number++)
        for (int gauge = 0; gauge < GAUGES; gauge++) {
            struct work work = begin();
            int kind = number % 4, ncols, nrows;
            uint8_t *cell, knitted_as[GRID_YARNS_MAX];
            struct grid grid;
            char name[32];

            dice_state = UINT64_C(20261127) + (uint64_t)number;
            ncols = 10 + dice_below(16);
            nrows = 10 + dice_below(16);
            ncols += kind == 3 ? ncols % 2 : 0;
            nrows += kind == 3 ? nrows % 2 : 0;
            cell = arena_alloc(work.arena, (size_t)ncols * (size_t)nrows, 1);
            for (int i = 0; i < 2 + ncols * nrows / 150; i++) {
                uint8_t yarn = (uint8_t)(i == 3 ? 0 : number % 6 == 5 && i == 1 ? 2 : 1);

                if (i % 2 == 0)
                    put_lozenge(cell, ncols, nrows, kind, yarn, dice_below(2) == 0);
                else
                    put_line(cell, ncols, nrows, kind, yarn);
            }
            for (int y = 0; y < GRID_YARNS_MAX; y++)
                knitted_as[y] = (uint8_t)y;
            grid = (struct grid){nrows, ncols, cell};
            snprintf(name, sizeof name, "fresh %d", number + 1);
            redraw(&work, name, &grid, kind == 3 || number % 2 == 0, knitted_as, tenths[gauge]);
            arena_destroy(work.arena);
        }
}

static void print_sums(void)
{
    static const char *const names[2] = {"0.6 to 0.9", "1.1 to 1.6"};

    printf("\n%-10s %-10s %6s %6s %6s %6s %6s %6s | %6s %6s %6s %6s\n", "", "gauge", "charts", "within", "whole",
           "symm", "floats", "all", "links", "parts", "lost", "long");
    for (int i = 0; i < 2; i++)
        for (int f = 0; f <= nfilters; f++) {
            const struct tally *sum = &sums[f][i];

            printf("%-10s %-10s %6d %6d %6d %6d %6d %6d | %6d %6d %6d %6d\n", f > 0 ? filters[f - 1] : "redrawn",
                   names[i], sum->charts, sum->within, sum->unbroken, sum->symmetrical, sum->floats_kept,
                   sum->all, sum->lines, sum->parts, sum->lost, sum->floats);
        }
}

int main(int argc, char **argv)
{
    static const char *const projects[] = {
        "examples/barley-socks/barley-socks.ini",   "examples/moth-cushion/moth-cushion.ini",
        "examples/pinewood-yoke/pinewood-yoke.ini", "examples/skep-mittens/skep-mittens.ini",
        "examples/tile-blanket/tile-blanket.ini",   "examples/toadstool-hat/toadstool-hat.ini",
        "tests/projects/ripple.ini",                "tests/projects/seeds.ini",
        "tests/projects/reeds.ini"};

    gsl_set_error_handler_off();
    setvbuf(stdout, NULL, _IOLBF, BUFSIZ);
    scratch = argc > 2 ? argv[2] : ".";
    filters = argv + 3;
    nfilters = argc > 3 + FILTERS_MAX ? FILTERS_MAX : argc > 3 ? argc - 3 : 0;
    printf("%-18s %s %9s %9s %6s %6s %6s %3s %5s %3s %3s %3s %3s %3s\n", "chart", "gge", "old", "new", "bound", "area",
           "ratio", "", "symm", "lin", "spl", "joi", "los", "flo");
    if (argc > 1 && strcmp(argv[1], "fresh") == 0)
        fresh_charts();
    else
        for (size_t i = 0; i < sizeof projects / sizeof projects[0]; i++)
            demo_project(projects[i]);
    print_sums();
    return 0;
}
