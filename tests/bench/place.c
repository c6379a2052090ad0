/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The placement of catches alone: how long the best takes, against row by row in the same run, what
 * it makes better, and how much of it is proven.
 *   place [SEEDS]     charts of each kind and size, 4 if not given; limits of 4 to 7 stitches
 */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/catches/best.h"

enum { SEEDS_MAX = 64, LEAVE_FIRST = 4, LEAVE_LAST = 7, LARGE_CELLS = 20000 };

static uint64_t state;

static unsigned below(unsigned n)
{
    state = state * 6364136223846793005u + 1442695040888963407u; /* Knuth's MMIX */
    return (unsigned)((state >> 33) % n);
}

/* --- charts ------------------------------------------------------------------------------- */

static int at(int i, int n)
{
    return ((i % n) + n) % n;
}

/* Heights that change slowly; the edges meet. */
static void raise_hills(int nrows, int ncols, unsigned *field, unsigned *scratch)
{
    for (int i = 0; i < nrows * ncols; i++)
        field[i] = below(1000);
    for (int pass = 0; pass < 3; pass++) {
        for (int r = 0; r < nrows; r++)
            for (int c = 0; c < ncols; c++) {
                unsigned sum = 0;

                for (int a = -2; a <= 2; a++)
                    for (int b = -1; b <= 1; b++)
                        sum += field[at(r + b, nrows) * ncols + at(c + a, ncols)];
                scratch[r * ncols + c] = sum / 15;
            }
        for (int i = 0; i < nrows * ncols; i++)
            field[i] = scratch[i];
    }
}

static void draw_blobs(int nrows, int ncols, uint8_t *cell, int ncolours)
{
    size_t n = (size_t)nrows * (size_t)ncols;
    unsigned *field = malloc(4 * n * sizeof *field);

    if (!field)
        exit(1);
    for (int k = 0; k < 3; k++)
        raise_hills(nrows, ncols, field + (size_t)k * n, field + 3 * n);
    for (size_t i = 0; i < n; i++) {
        cell[i] = field[i] > 500;
        for (uint8_t k = 0; ncolours > 2 && k < 3; k++)
            if (field[(size_t)k * n + i] >= field[cell[i] * n + i])
                cell[i] = k;
    }
    free(field);
}

static void draw_solid(int nrows, int ncols, uint8_t *cell)
{
    int step = 2 + (int)below(3), shift = (int)below(5);

    for (int r = 0; r < nrows; r++)
        for (int c = 0; c < ncols; c++) {
            int up = r < nrows - 1 - r ? r : nrows - 1 - r;
            int across = c < ncols - 1 - c ? c : ncols - 1 - c;

            cell[r * ncols + c] = ((up < across ? up : across) + shift) / step % 2 == 0;
        }
}

static void draw_dots(int nrows, int ncols, uint8_t *cell)
{
    int every = 6 + (int)below(6), deep = 3 + (int)below(3), shift = (int)below((unsigned)every);

    for (int r = 0; r < nrows; r++)
        for (int c = 0; c < ncols; c++)
            cell[r * ncols + c] =
                (r / deep % 2 == 1) != ((c + shift * (r / 2)) % every < 1 + (r % 5 == 0));
}

static void draw_geometric(int nrows, int ncols, uint8_t *cell)
{
    int across = 12 + 2 * (int)below(4), up = 10 + 2 * (int)below(3);

    for (int r = 0; r < nrows; r++)
        for (int c = 0; c < ncols; c++) {
            int far = abs(2 * (c % across) - across) * up + abs(2 * (r % up) - up) * across;

            cell[r * ncols + c] = far * 5 / (across * up) >= 5;
        }
}

static const struct kind {
    const char *name;
    int ncolours;
    void (*draw)(int nrows, int ncols, uint8_t *cell);
} kinds[] = {
    {"blobs", 2, NULL},
    {"solid shapes", 2, draw_solid},
    {"stripes, dots", 2, draw_dots},
    {"all-over", 2, draw_geometric},
    {"three colours", 3, NULL},
};

/* --- one set ---------------------------------------------------------------------------------- */

struct set {
    int charts, proven, stacks_certain;
    int64_t stacks[2], catches[2], near[2]; /* row by row, best */
    double quick_ms[SEEDS_MAX * 4], best_ms[SEEDS_MAX * 4];
    size_t most_bytes;
};

static double now_ms(void)
{
    struct timespec time;

    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return 1e3 * (double)time.tv_sec + 1e-6 * (double)time.tv_nsec;
}

static void add_map(struct set *set, int which, const struct catch_map *map)
{
    set->stacks[which] += map->stacked + map->doubled;
    set->catches[which] += map->count;
    set->near[which] += map->touching;
}

static void place_one(struct set *set, const struct grid *grid, const struct catch_rules *rules)
{
    struct work work = {.arena = arena_create((size_t)8 << 30)};
    struct best_proof proof;
    const struct catch_map *quick, *best;
    double start, middle;

    if (!work.arena)
        exit(1);
    start = now_ms();
    quick = catches_place(&work, grid, rules);
    middle = now_ms();
    best = best_place(&work, grid, rules, quick, &proof);
    set->best_ms[set->charts] = now_ms() - middle;
    set->quick_ms[set->charts++] = middle - start;
    add_map(set, 0, quick);
    add_map(set, 1, best);
    set->proven += proof.proven;
    set->stacks_certain += proof.stacks == best->stacked + best->doubled;
    if (arena_used_bytes(work.arena) > set->most_bytes)
        set->most_bytes = arena_used_bytes(work.arena);
    arena_destroy(work.arena);
}

static int compare_ms(const void *a, const void *b)
{
    const double *x = a, *y = b;

    return (*x > *y) - (*x < *y);
}

static void place_set(const struct kind *kind, int ncols, int nrows, bool spare, int seeds)
{
    static struct set set;
    uint8_t *cell = malloc((size_t)nrows * (size_t)ncols);
    struct grid grid = {nrows, ncols, cell};

    if (!cell)
        exit(1);
    set = (struct set){0};
    for (int seed = 0; seed < seeds; seed++) {
        state = (uint64_t)seed + 1;
        below(1);
        if (kind->draw)
            kind->draw(nrows, ncols, cell);
        else
            draw_blobs(nrows, ncols, cell, kind->ncolours);
        for (int leave = LEAVE_FIRST; leave <= LEAVE_LAST; leave++) {
            struct catch_rules rules = {leave, 2, 1, spare, seed % 2 == 1};

            place_one(&set, &grid, &rules);
        }
    }
    qsort(set.best_ms, (size_t)set.charts, sizeof *set.best_ms, compare_ms);
    qsort(set.quick_ms, (size_t)set.charts, sizeof *set.quick_ms, compare_ms);
    printf("%-14s %3d x %-3d %-3s %3d/%-3d %3d/%-3d %8.1f %9.1f %7.0f x %6lld>%-6lld %7lld>%-7lld "
           "%6lld>%-6lld %5.1f\n",
           kind->name, ncols, nrows, spare ? "yes" : "no", set.proven, set.charts, set.stacks_certain,
           set.charts, set.best_ms[set.charts / 2], set.best_ms[set.charts - 1],
           set.best_ms[set.charts / 2] / (set.quick_ms[set.charts / 2] + 1e-4),
           (long long)set.stacks[0], (long long)set.stacks[1], (long long)set.catches[0],
           (long long)set.catches[1], (long long)set.near[0], (long long)set.near[1],
           (double)set.most_bytes / 1048576);
    fflush(stdout);
    free(cell);
}

int main(int argc, char **argv)
{
    static const int sizes[][2] = {{24, 20}, {36, 30}, {40, 40}, {60, 100}, {200, 300}};
    long asked = argc > 1 ? strtol(argv[1], NULL, 10) : 4;
    int seeds = asked < 1 ? 1 : asked > SEEDS_MAX ? SEEDS_MAX : (int)asked;

    printf("Processor time of the best placement; x: against row by row, median to median. Sums over a "
           "line:\nrow by row > best. Stacks: one above the other, or two behind a stitch. MB: kept, "
           "not the most in use.\n\n");
    printf("%-14s %-9s %-3s %-7s %-7s %8s %9s %9s %13s %15s %13s %5s\n", "chart", "size", "sp", "proven",
           "stacks", "median", "worst ms", "ratio", "stacks", "catches", "beside", "MB");
    for (size_t s = 0; s < sizeof sizes / sizeof sizes[0]; s++)
        for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++)
            for (int spare = 0; spare < 2; spare++) {
                bool large = sizes[s][0] * sizes[s][1] > LARGE_CELLS;

                if (large && kinds[k].ncolours > 2)
                    continue; /* minutes: the plan goes row by row there unless asked */
                place_set(&kinds[k], sizes[s][0], sizes[s][1], spare, large ? 1 : seeds);
            }
    return 0;
}
