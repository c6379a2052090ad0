/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What shaping before and after a band would be, with the parts that are beside it: the piece is put
 * together as it would be then, and looked at. So the words are those of the plan, were it picked.
 */
#include "plan/builder.h"

#include <string.h>

#include "base/arena.h"
#include "words/remedy.h"
#include "words/say.h"

/* A piece looked at: what is shaped just before the band and just after it. */
struct look {
    struct shaping before, after; /* rounds 0: nothing */
    int64_t rows;                 /* of all of it */
};

static bool is_plain_between(const struct plan_step *step)
{
    return step->kind == STEP_PLAIN && step->name[0] == '\0';
}

/* What is shaped beside a step, upwards (1) or downwards (-1). */
static struct shaping shaped_beside(const struct plan_piece *piece, int at, int way)
{
    do
        at += way;
    while (at > 0 && at < piece->nsteps - 1 && is_plain_between(&piece->steps[at]));
    return at >= 0 && at < piece->nsteps ? piece->steps[at].shaping : (struct shaping){0};
}

static struct look look_at(const struct plan_piece *piece, int band)
{
    struct look look = {{0}, {0}, 0};
    int at = 0;

    for (int i = 0; i < piece->nsteps; i++) {
        look.rows += piece->steps[i].rows;
        if (piece->steps[i].kind == STEP_BAND && piece->steps[i].band == band)
            at = i;
    }
    look.before = shaped_beside(piece, at, -1);
    look.after = shaped_beside(piece, at, 1);
    return look;
}

/* The piece with so many stitches in the band, and so many kept beside it. */
static bool put_together(const struct builder *builder, int band_index, int count, int rest,
                         struct look *look)
{
    struct arena *arena = builder->work->arena;
    const struct plan_piece *own = builder->piece;
    size_t nparts = (size_t)builder->project->nparts, nbands = (size_t)own->nbands;
    struct plan_piece piece = *own;
    struct builder looking = *builder;
    int part = own->bands[band_index].part;

    looking.looking = true;
    looking.piece = &piece;
    piece.nsteps = 0;
    piece.bands = arena_alloc(arena, nbands, sizeof *piece.bands);
    looking.part_count = arena_alloc(arena, nparts, sizeof *looking.part_count);
    looking.rest_count = arena_alloc(arena, nparts, sizeof *looking.rest_count);
    memcpy(piece.bands, own->bands, nbands * sizeof *piece.bands);
    for (int i = 0; i < (int)nparts; i++) {
        bool own_count = plan_part_counts_itself(builder, i);

        looking.part_count[i] = own_count ? builder->part_count[i] : -1;
        looking.rest_count[i] = own_count ? builder->rest_count[i] : -1;
    }
    looking.part_count[part] = count;
    looking.rest_count[part] = rest;
    plan_counts_spread(&looking);
    plan_cast_on_set(&looking);
    if (!looking.failed)
        plan_steps_set(&looking);
    if (!looking.failed)
        *look = look_at(&piece, band_index);
    return !looking.failed;
}

static bool is_same(const struct shaping *a, const struct shaping *b)
{
    return a->rounds == b->rounds && (a->rounds == 0 || (a->from == b->from && a->to == b->to));
}

/* false: it cannot be put together, or nothing beside the band keeps a count of its own for it. */
static bool set_beside(const struct builder *builder, int band, const struct fit_case *facts,
                       struct fit_remedy *remedy)
{
    int edges = facts->question->selvedge_sts, count = (int)remedy->stitches - edges;
    int rest = (int)facts->body_sts - edges, planned = (int)facts->planned_sts - edges;
    struct look shaped, bare, now;

    if (!put_together(builder, band, count, rest, &shaped) ||
        (shaped.before.from != rest && shaped.after.to != rest))
        return false;
    if (put_together(builder, band, count, count, &bare) && is_same(&bare.before, &shaped.before) &&
        is_same(&bare.after, &shaped.after))
        return false;
    /* A rib that goes with the rest may not go with the whole repeats: then without any shaping. */
    remedy->extra_rounds = shaped.before.rounds + shaped.after.rounds;
    if (put_together(builder, band, planned, planned, &now))
        remedy->extra_rounds = (int)(shaped.rows - now.rows);
    remedy->before = shaped.before;
    remedy->after = shaped.after;
    return remedy->beside_known = true;
}

static void fault_shape(struct builder *builder, const struct plan_band *band)
{
    const struct part *part = &builder->project->parts[band->part];
    struct arena *arena = builder->work->arena;

    builder_fault(builder, DIAG_REMEDY_IMPOSSIBLE, part->remedy.at,
                  arena_printf(arena,
                               "Nothing beside %s keeps another count: there is nothing to shape it "
                               "from and back to.",
                               part->name),
                  arena_printf(arena,
                               "Whole repeats come to the same: remedy = another count, %s.",
                               say_count(arena, band->remedy->repeats, "repeat", "repeats")));
}

static void say_band(struct builder *builder, int index)
{
    struct plan_band *band = &builder->piece->bands[index];
    struct fit_answer *answer = builder->fits[band->part];
    const char *picked = band->remedy ? band->remedy->choice : NULL;
    int kept = 0;

    for (int i = 0; i < answer->count; i++) {
        struct fit_remedy *remedy = &answer->remedies[i];

        if (remedy->kind == FIT_SHAPE && !set_beside(builder, index, &answer->facts, remedy)) {
            if (remedy == band->remedy) {
                fault_shape(builder, band);
                return;
            }
            continue;
        }
        answer->remedies[kept++] = *remedy;
    }
    band->within_gauge = builder_is_within_gauge(builder, band->finished_in, band->wanted_in);
    answer->count = kept;
    fit_rank(&answer->facts, answer->remedies, kept);
    remedy_say(builder->work, answer);
    band->nremedies = kept;
    for (int i = 0; i < kept && band->remedy != builder->gauge_remedy; i++)
        if (answer->remedies[i].choice == picked)
            band->remedy = &answer->remedies[i];
}

void plan_fit_say(struct builder *builder)
{
    for (int i = 0; i < builder->piece->nbands && !builder->try_at && !builder->failed; i++)
        if (builder->fits[builder->piece->bands[i].part])
            say_band(builder, i);
}
