/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is found in a chart; how it is said is in proofread_say.c.
 */
#include "proofread.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/shade.h"
#include "base/tables.h"
#include "base/work.h"

enum { COPIES_MANY = 4, GAPS_MAX = 3, OFF_NAMED_MAX = 3, MIRROR_STEPS_MAX = 20000000 };

/* --- symmetries ------------------------------------------------------------------------ */

/* Stitches not in the ground. */
static int64_t count_pattern(const struct symmetry_field *field)
{
    size_t cells = (size_t)field->grid->nrows * (size_t)field->grid->ncols;
    int64_t count = 0;

    for (size_t i = 0; i < cells; i++)
        count += field->grid->cell[i] != field->ground;
    return count;
}

/* More in a chart of more stitches, as slips are. */
static int64_t most_slips(struct work *work, const struct symmetry_field *field)
{
    int64_t few = (int64_t)tables_value(work->tables, "proof_symmetry_stitches");
    int64_t limit = (int64_t)tables_value(work->tables, "proof_symmetry_most");
    int64_t each = (int64_t)tables_value(work->tables, "proof_symmetry_each");
    int64_t most = few + count_pattern(field) / each;

    return most < limit ? most : limit;
}

void proof_find_symmetries(struct work *work, const struct symmetry_field *field,
                           struct proof_symmetries *found)
{
    int64_t most = most_slips(work, field);
    double part = tables_value(work->tables, "proof_symmetry_ratio");
    int64_t each = (int64_t)tables_value(work->tables, "proof_seeding_each");

    for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
        struct symmetry *best = &found->of[kind];
        struct symmetry_wish wish = {.most_breaks = most};
        enum symmetry_found answer = symmetry_best(work, field, (enum symmetry_kind)kind, &wish, best);

        found->given_up = found->given_up || answer == SYMMETRY_GIVEN_UP;
        if (answer != SYMMETRY_FOUND)
            continue;
        found->holds[kind] = best->breaks == 0;
        found->nearly[kind] = best->breaks > 0 && ((double)best->breaks <= part * (double)best->agreeing ||
                                                   (kind == SYMMETRY_DROP && best->times >= COPIES_MANY &&
                                                    each * best->breaks <= best->agreeing));
    }
}

/* How far off the mirror a chart is that was not drawn for one. */
static void measure_mirror(struct work *work, struct proof_chart *chart)
{
    const struct grid *grid = chart->field.grid;
    struct symmetry_wish wish = {.most_breaks = (int64_t)grid->nrows * grid->ncols, .straight = true};

    chart->off_row = -1;
    if (count_pattern(&chart->field) * grid->ncols > MIRROR_STEPS_MAX ||
        chart->symmetries.holds[SYMMETRY_ACROSS] || chart->symmetries.nearly[SYMMETRY_ACROSS])
        return;
    chart->has_mirror_off = symmetry_best(work, &chart->field, SYMMETRY_ACROSS, &wish,
                                          &chart->mirror_off) == SYMMETRY_FOUND;
    if (!chart->has_mirror_off || chart->mirror_off.breaks > grid->ncols)
        return;
    chart->noff = proofread_faults(work, chart, &chart->mirror_off, &chart->off);
    if (chart->noff <= OFF_NAMED_MAX)
        return;
    chart->off_row = chart->off[0].row;
    for (int i = 1; i < chart->noff; i++)
        if (chart->off[i].row != chart->off_row)
            chart->off_row = -1;
    chart->noff = 0;
}

/* Of the near ones that which fewest stitches break. Before them those by which three and more are copies of one
 * another: they tell which of them is odd, and of a stitch that was moved both places, where a mirror through
 * one of them sees half of it. */
static int broken_kind(const struct proof_chart *chart)
{
    const struct proof_symmetries *found = &chart->symmetries;
    int broken = -1;

    for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
        bool copies = found->of[kind].times > 2;
        bool had = broken >= 0 && found->of[broken].times > 2;

        if (found->nearly[kind] && (broken < 0 || (copies && !had) ||
                                    (copies == had && found->of[kind].breaks < found->of[broken].breaks)))
            broken = kind;
    }
    return broken;
}

/* --- joins ----------------------------------------------------------------------------- */

/* A row that does not meet itself, of so many whole times at the least; noted once. */
static bool note_row(struct proof_chart *chart, struct proof_row *rows, int row, int whole)
{
    const struct grid *grid = chart->field.grid;
    int i = 0, period = proof_row_period(grid->cell + (size_t)row * (size_t)grid->ncols, grid->ncols, whole);

    while (i < chart->nrows && rows[i].row != row)
        i++;
    if (period > 0 && i == chart->nrows)
        rows[chart->nrows++] = (struct proof_row){row, period};
    return period > 0;
}

/* Rows and columns exchanged: upwards then is sideways. */
static struct grid lay_on_side(struct work *work, const struct grid *grid)
{
    uint8_t *cell = arena_alloc(work->arena, (size_t)grid->nrows * (size_t)grid->ncols, 1);

    for (int row = 0; row < grid->nrows; row++)
        for (int column = 0; column < grid->ncols; column++)
            cell[(size_t)column * (size_t)grid->nrows + (size_t)row] = grid_at(grid, row, column);
    return (struct grid){grid->ncols, grid->nrows, cell};
}

/* A line that does not meet because its rows, of fewer whole times, do not: then they are what is said. */
static void find_joins(struct work *work, struct proof_chart *chart)
{
    int whole = (int)tables_value(work->tables, "proof_whole_times"), ngaps, nrows = chart->field.grid->nrows;
    struct proof_row *rows = arena_alloc(work->arena, (size_t)nrows + 2 * GAPS_MAX, sizeof *rows);
    struct proof_gap *gaps = arena_alloc(work->arena, 2 * GAPS_MAX, sizeof *gaps);

    chart->rows = rows;
    chart->gaps = gaps;
    chart->gaps_up = gaps + GAPS_MAX;
    for (int row = 0; row < nrows && chart->field.ring; row++)
        note_row(chart, rows, row, whole);
    ngaps = proof_gaps(&chart->field, gaps, GAPS_MAX);
    for (int i = 0; i < ngaps; i++) {
        bool own = note_row(chart, rows, gaps[i].row, whole - 1);

        if (!note_row(chart, rows, gaps[i].other_row, whole - 1) && !own)
            gaps[chart->ngaps++] = gaps[i];
    }
    if (chart->field.ring_rows) {
        struct grid lying = lay_on_side(work, chart->field.grid);
        struct symmetry_field field = {&lying, true, chart->field.ring, chart->field.ground};

        chart->ngaps_up = proof_gaps(&field, gaps + GAPS_MAX, GAPS_MAX);
    }
}

/* --- strays, rows of three --------------------------------------------------------------- */

/* Single stitches of yarns that hardly have any. */
static void find_specks(struct work *work, struct proof_chart *chart, int nyarns)
{
    int most = (int)tables_value(work->tables, "proof_stray_stitches");
    double part = tables_value(work->tables, "proof_stray_ratio");
    struct proof_stray *specks =
        arena_alloc(work->arena, (size_t)(most * nyarns), sizeof *specks);

    chart->specks = specks;
    for (int yarn = 0; yarn < nyarns; yarn++)
        chart->nspecks += proof_strays(&chart->field, (uint8_t)yarn, most, part, specks + chart->nspecks);
}

/* In a symmetrical chart a single stitch stands where the symmetry wants it; in one that is nearly so,
 * what does not is a fault already. */
static void find_strays(struct proof_chart *chart)
{
    for (int kind = 0; kind < SYMMETRY_ALONG; kind++) /* mirrored in some way */
        if (chart->symmetries.holds[kind] || chart->symmetries.nearly[kind])
            return;
    chart->strays = chart->specks;
    chart->nstrays = chart->broken >= 0 ? 0 : chart->nspecks;
}

/* Is it a stitch left out of a seeding, or the one beside it, against its partner? */
static bool is_hole(const struct proof_chart *chart, const struct proof_fault *fault)
{
    for (int i = 0; i < chart->nholes; i++) {
        const struct proof_hole *hole = &chart->holes[i];

        if ((hole->row == fault->row && hole->column == fault->column) ||
            (hole->row == fault->partner_row && hole->column == fault->partner_column) ||
            (hole->beside_row == fault->row && hole->beside_column == fault->column) ||
            (hole->beside_row == fault->partner_row && hole->beside_column == fault->partner_column &&
             fault->partner_row >= 0))
            return true;
    }
    return false;
}

/* Where copies of one another are many steps of a symmetry, a place left out is a fault already. Where a mirror misses
 * it too, the seeding says it better. */
static void find_holes(struct work *work, struct proof_chart *chart, int nyarns)
{
    int most = (int)tables_value(work->tables, "proof_symmetry_stitches");
    int each = (int)tables_value(work->tables, "proof_seeding_each");
    struct proof_hole *holes = arena_alloc(work->arena, (size_t)most, sizeof *holes);

    chart->holes = holes;
    if (chart->broken >= 0 && chart->symmetries.of[chart->broken].times > 2)
        return;
    for (int yarn = 0; yarn < nyarns && chart->nholes == 0; yarn++)
        chart->nholes = proof_holes(&chart->field, (uint8_t)yarn, most, each, &chart->steps, holes);
    for (int i = 0; i < chart->nfaults && chart->nholes > 0; i++)
        if (!is_hole(chart, &chart->faults[i]))
            return;
    if (chart->nholes > 0)
        chart->nfaults = 0;
}

/* The yarns knitted in a row, a bit each. */
static uint64_t yarns_of_row(const struct project *project, const struct grid *grid, int row)
{
    uint64_t yarns = 0;

    for (int column = 0; column < grid->ncols; column++) {
        uint8_t yarn = grid_at(grid, row, column);

        if (yarn == GRID_NO_STITCH)
            continue;
        if (project->yarns[yarn].duplicate_over.name)
            yarn = (uint8_t)project->yarns[yarn].duplicate_over.index;
        yarns |= (uint64_t)1 << yarn;
    }
    return yarns;
}

static void find_three(struct work *work, const struct project *project, struct proof_chart *chart)
{
    int *three = arena_alloc(work->arena, (size_t)chart->field.grid->nrows, sizeof *three);

    for (int row = 0; row < chart->field.grid->nrows; row++) {
        uint64_t yarns = yarns_of_row(project, chart->field.grid, row);

        yarns &= yarns - 1;
        if (yarns & (yarns - 1))
            three[chart->nthree++] = row;
    }
    chart->three = three;
}

/* --- whole rows ---------------------------------------------------------------------------- */

/* Is it a row that one of the slips concerns? All rows of one side are moved where one is missing or too many. */
static bool is_of_slip(const struct proof_chart *chart, int row)
{
    for (int i = 0; i < chart->nslips; i++)
        if (chart->slips[i].nrows != chart->field.grid->nrows ||
            row_slip_concerns(&chart->slips[i], &chart->field, row))
            return true;
    return false;
}

/* Slips of a whole row, and what of the other doubts they explain. */
static void find_slips(struct work *work, struct proof_chart *chart)
{
    struct row_slip_rule rule = {
        .breaks = (int)tables_value(work->tables, "proof_row_breaks"),
        .agreeing = (int)tables_value(work->tables, "proof_row_stitches"),
        .rows = (int)tables_value(work->tables, "proof_row_rows"),
        .rows_counted = (int)tables_value(work->tables, "proof_row_rows_counted"),
        .whole = (int)tables_value(work->tables, "proof_whole_times"),
    };
    bool explained = true;

    chart->nslips = row_slips(work, &chart->field, &rule, chart->slips);
    if (chart->nslips == 0)
        return;
    for (int i = 0; i < chart->nfaults; i++)
        explained = explained && is_of_slip(chart, chart->faults[i].row);
    if (explained)
        chart->nfaults = 0;
    chart->nholes = 0;
    chart->nstrays = 0;
}

/* --- a band ------------------------------------------------------------------------------- */

static void read_alone(struct work *work, const struct project *project, struct proof_chart *chart)
{
    chart->too_large =
        (int64_t)chart->field.grid->nrows * chart->field.grid->ncols > SYMMETRY_CELLS_MAX;
    chart->broken = -1;
    if (chart->too_large)
        return;
    proof_find_symmetries(work, &chart->field, &chart->symmetries);
    measure_mirror(work, chart);
    find_specks(work, chart, project->nyarns);
    chart->broken = broken_kind(chart);
    if (chart->broken >= 0)
        chart->nfaults =
            proofread_faults(work, chart, &chart->symmetries.of[chart->broken], &chart->faults);
    find_strays(chart);
    find_holes(work, chart, project->nyarns);
    find_slips(work, chart);
}

/* A chart of a band: all of it, as one, or one of those side by side. */
static struct proof_chart *add_chart(struct work *work, const struct project *project, int part,
                                     const struct chart *chart, const char *name, bool side_by_side,
                                     struct proof_chart *out)
{
    const struct part *band = &project->parts[part];
    bool again_across = project->worked.value == WORKED_ROUND || band->repeats.value == 0 ||
                        band->repeats.value > 1;

    *out = (struct proof_chart){.chart = chart, .name = name, .whole = !side_by_side, .broken = -1};
    out->field = (struct symmetry_field){&chart->repeat, again_across && !side_by_side,
                                         band->upwards.value > 1,
                                         symmetry_ground(&chart->repeat)};
    if (side_by_side || chart->nbeside == 0)
        read_alone(work, project, out);
    if (!side_by_side) {
        find_joins(work, out);
        find_three(work, project, out);
    }
    return out;
}

static int add_band(struct work *work, const struct project *project, int part,
                    const struct chart *chart, struct proof_chart *out)
{
    int n = 0;

    add_chart(work, project, part, chart, chart->name, false, &out[n++]);
    for (int i = 0; i < chart->nbeside; i++) {
        bool again = false;

        for (int j = 0; j < i; j++)
            again = again || chart->beside[j] == chart->beside[i];
        if (!again)
            add_chart(work, project, part, chart->beside[i], project->parts[part].chart[i].text, true,
                      &out[n++]);
    }
    return n;
}

/* --- shades -------------------------------------------------------------------------------- */

/* A yarn's edges against all others, and against one of them. */
struct outline {
    int64_t all, other;
};

static void add_edge(struct outline outline[2], const struct proof_shades *shades, uint8_t a, uint8_t b)
{
    uint8_t own[2] = {(uint8_t)shades->yarn, (uint8_t)shades->other};

    for (int k = 0; k < 2 && a != b; k++)
        if (a == own[k] || b == own[k]) {
            outline[k].all++;
            outline[k].other += a == own[1 - k] || b == own[1 - k];
        }
}

/* The shape of a yarn is lost where most of its outline is against one that reads as it does. */
static int find_beside(struct work *work, const struct symmetry_field *field,
                       const struct proof_shades *shades)
{
    const struct grid *grid = field->grid;
    double part = tables_value(work->tables, "shades_outline_ratio");
    struct outline outline[2] = {{0, 0}, {0, 0}};
    int across = -1, upwards = -1;

    for (int row = 0; row < grid->nrows; row++)
        for (int column = 0; column < grid->ncols; column++) {
            uint8_t yarn = grid_at(grid, row, column);
            int left = (column + 1) % grid->ncols, above = (row + 1) % grid->nrows;
            int64_t before = outline[0].other;

            if (column + 1 < grid->ncols || field->ring)
                add_edge(outline, shades, yarn, grid_at(grid, row, left));
            if (across < 0 && outline[0].other > before)
                across = row;
            before = outline[0].other;
            if (row + 1 < grid->nrows || field->ring_rows)
                add_edge(outline, shades, yarn, grid_at(grid, above, column));
            if (upwards < 0 && outline[0].other > before)
                upwards = row;
        }
    for (int k = 0; k < 2; k++)
        if (outline[k].other > 0 && (double)outline[k].other >= part * (double)outline[k].all)
            return across >= 0 ? across : upwards;
    return -1;
}

static void compare_shades(struct work *work, const struct project *project, int part,
                           const struct symmetry_field *field, struct proof_shades *shades)
{
    const struct grid *grid = field->grid;
    double lab[2][3];
    uint64_t both = (uint64_t)1 << shades->yarn | (uint64_t)1 << shades->other;

    shade_lab(project->yarns[shades->yarn].rgb, lab[0]);
    shade_lab(project->yarns[shades->other].rgb, lab[1]);
    shades->part = part;
    shades->apart = fabs(lab[0][0] - lab[1][0]) / 100.0;
    shades->close = shades->apart < tables_value(work->tables, "shades_close_ratio");
    shades->soft = !shades->close && shades->apart < tables_value(work->tables, "shades_soft_ratio");
    shades->beside_row = shades->close ? find_beside(work, field, shades) : -1;
    shades->alone_row = -1;
    for (int row = 0; row < grid->nrows && shades->alone_row < 0; row++) {
        uint64_t yarns = 0;

        for (int column = 0; column < grid->ncols; column++)
            if (grid_at(grid, row, column) < GRID_YARNS_MAX)
                yarns |= (uint64_t)1 << grid_at(grid, row, column);
        if (yarns == both)
            shades->alone_row = row;
    }
}

static int add_shades(struct work *work, const struct project *project, int part,
                      const struct symmetry_field *field, struct proof_shades *out)
{
    const struct grid *grid = field->grid;
    bool seen[256] = {false};
    size_t cells = (size_t)grid->nrows * (size_t)grid->ncols;
    int n = 0;

    for (size_t i = 0; i < cells; i++)
        seen[grid->cell[i]] = true;
    for (int yarn = 0; yarn < project->nyarns; yarn++)
        for (int other = yarn + 1; other < project->nyarns; other++) {
            if (!seen[yarn] || !seen[other] || !project->yarns[yarn].shade.text ||
                !project->yarns[other].shade.text)
                continue;
            out[n] = (struct proof_shades){.yarn = yarn, .other = other};
            compare_shades(work, project, part, field, &out[n++]);
        }
    return n;
}

/* --- all of it ------------------------------------------------------------------------------ */

const struct proofreading *proofread(struct work *work, const struct project *project,
                                     const struct chart *const *charts)
{
    struct proofreading *out = arena_alloc(work->arena, 1, sizeof *out);
    size_t room = 0, pairs = (size_t)project->nyarns * (size_t)project->nyarns / 2;
    struct proof_chart *read;
    struct proof_shades *shades;

    for (int i = 0; i < project->nparts; i++)
        room += charts[i] ? 1 + (size_t)charts[i]->nbeside : 0;
    read = arena_alloc(work->arena, room, sizeof *read);
    shades = arena_alloc(work->arena, pairs * (size_t)project->nparts, sizeof *shades);
    for (int i = 0; i < project->nparts; i++) {
        const struct proof_chart *first;

        if (!charts[i])
            continue;
        first = &read[out->ncharts]; /* all of the band as one */
        out->ncharts += add_band(work, project, i, charts[i], read + out->ncharts);
        out->nshades += add_shades(work, project, i, &first->field, shades + out->nshades);
    }
    out->charts = read;
    out->shades = shades;
    proofread_say(work, project, out);
    return out;
}
