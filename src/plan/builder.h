/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of plan/ share while a piece is being built. Not for renderers.
 */
#ifndef STRANDWISE_BUILDER_H
#define STRANDWISE_BUILDER_H

#include "base/work.h"
#include "plan.h"

/* One piece at one gauge: her own (try NULL), or that of a [try]. */
struct builder {
    struct work *work;
    const struct project *project;
    const struct chart *const *charts;
    const struct try_gauge *try_at;     /* NULL: her own gauge */
    const struct plan_piece *own;       /* of a variant: the piece as it is; NULL: this is it */
    const struct project *own_project;  /* and that of it */
    const int *own_part_count;          /* of a try: part_count of her own piece */
    bool own_gauge;                     /* try_at is the gauge of own: stitches and yarn too */
    struct plan_piece *piece;           /* being filled */
    bool failed;
    const char *why;                    /* a try that cannot be: the words */
    bool looking;                       /* only to see what would come of it: nothing is said */
    struct fit_answer **fits;           /* [parts]: ways round a band, still to be put into words; NULL */
    struct rational per_in, plain_per_in;
    struct rational rows_per_in;
    struct rational limit_in;
    struct place limit_at;
    int leave_sts;                      /* longest run left loose, at least 1 */
    int *part_count;                    /* stitches of part i, selvedge and steek left out */
    int *rest_count;                    /* the same, or what the parts beside it keep (remedy = shape) */
    const struct fit_remedy *gauge_remedy; /* another gauge was picked for part gauge_part; NULL */
    int gauge_part;
    int main_yarn;                      /* cast-on's, else the first knitted */
    bool *used;                         /* by row of the table of allowances: a number rests on it */
};

/* A fault: reported for her own piece, kept as the try's reason otherwise. */
void builder_fault(struct builder *builder, enum diag_code code, struct place at,
                   const char *what, const char *todo);

/* A number of the table of allowances that figures of the plan rest on: it is noted as used. */
double builder_value(const struct builder *builder, const char *key);
/* One that only decides whether something is said. */
double builder_threshold(const struct builder *builder, const char *key);
/* Note that the plan rests on the row that stands for what she did not say; NULL: she did. */
void builder_rest_on(const struct builder *builder, const char *allowance);
double builder_tail_in(const struct builder *builder); /* noted */

/* A "how far may it be out" of the table, nine times in ten, as a standard error. */
double builder_may_be_out(const struct builder *builder, const char *key);

bool builder_in_cm(const struct builder *builder); /* she writes centimetres: they come first */
const char *builder_length(const struct builder *builder, double inches); /* her unit first */
const char *builder_fine_length(const struct builder *builder, double mm); /* "0.72 in (18.3 mm)" */
bool builder_is_open(const struct builder *builder); /* rows with two ends: flat, or a steek */
/* The measure lies in what the 95 % interval of her counts leaves open; not of a single place. */
bool builder_is_within_gauge(const struct builder *builder, double finished_in, double wanted_in);
int builder_selvedge_sts(const struct builder *builder); /* both edges together */
int builder_steek_sts(const struct builder *builder);
int builder_needle_edges(const struct builder *builder); /* selvedge and steek: on the needle, no part of the pattern */
int builder_edges_in_measure(const struct builder *builder); /* those a measure counts: flat, the selvedge */
bool builder_rib_is_same(const struct builder *builder); /* there is a rib, and the part above goes on on its count */
struct count_rule builder_rib_rule(const struct builder *builder); /* counts it goes into */
int64_t builder_rib_nearest(const struct builder *builder, struct rational target);
int builder_knitted_yarn(const struct builder *builder, int yarn); /* what lies under a yarn sewn on */

/* Parts of a piece, each built on those before it. */
enum piece_part {
    PIECE_COUNTS = 1, /* gauge, stitches, steps */
    PIECE_BANDS = 2,  /* floats and catches */
    PIECE_YARNS = 4,
    PIECE_RANGE = 8,  /* how sure the yarn is, and balls */
    PIECE_WEAR = 16,
    PIECE_ALL = 31
};
/* The stages below of these parts. Returned: false when it failed. (piece.c) */
bool builder_build_piece(struct builder *builder, unsigned parts);

/* Her piece planned again with something changed: what is not said is as in her plan. */
struct variant {
    const struct project *project;     /* a changed copy; NULL: the same */
    const struct chart *const *charts; /* by part of it; NULL: the same */
    const struct try_gauge *at;        /* at another gauge, her yarn moved to it; NULL: at her swatch's */
    bool own_gauge;                    /* at is her own */
    struct plan_band *bands;           /* filled, in place of those of her piece, and counts as they are: only
                                          yarn is asked; NULL: everything anew */
    unsigned parts;                    /* of enum piece_part, asked for; 0: all, with bands none */
};
/* Catches are not placed again where chart and rules are those of her own piece. Nothing is said of it.
 * Returned: whether it can be; else *why (or NULL) is told in words, if there are any. (whatif/variant.c) */
bool plan_variant(const struct builder *own, const struct variant *changed, struct plan_piece *piece,
                  const char **why);
struct plan_try;
/* The same as a try that is called so. */
void plan_variant_try(const struct builder *own, const struct variant *changed, const char *name,
                      struct plan_try *out);
/* A gauge exactly. */
const struct try_gauge *plan_variant_gauge(struct work *work, const char *name, struct rational per_in,
                                           struct rational rows_per_in);

/* What the rooms do for a piece; the order is that of CALLS in piece.c. */
void plan_gauge_set(struct builder *builder);  /* gauge/gauge.c */
void plan_loop_set(struct builder *builder);   /* yarn/loop.c */
void plan_limit_set(struct builder *builder);  /* gauge/gauge.c */
void plan_bands_size(struct builder *builder); /* fit/parts.c: repeats and counts */
/* Her finished measure of a part and the exact target at a gauge. */
struct part_target {
    bool known; /* there is a measure */
    struct rational measure_in, wanted_in, sts;
};
struct part_target plan_target_of(const struct builder *builder, const struct part *part,
                                  struct rational per_in); /* gauge/size.c */
bool plan_target_is_sound(struct builder *builder, const struct part_target *target, struct place at);
enum { PLAN_STITCHES_MAX = 1000000 };
/* Plain parts with a measure, the parts beside them counted: of counts as good the simplest to shape. Returned:
 * some changed. (fit/parts.c) */
bool plan_plain_settle(struct builder *builder);
/* The band as its chart and keys have it, then whole repeats: the number given, else the multiple nearest the
 * exact target. (gauge/size.c) */
void plan_band_from_chart(const struct builder *builder, int part_index, struct plan_band *band);
void plan_band_size(struct builder *builder, const struct part *part, struct plan_band *band);
/* Side stitches and selvedge on top of the repeats are in total. (gauge/size.c) */
void plan_band_set_count(struct builder *builder, struct plan_band *band, int64_t total);
struct grid plan_knitted_grid(const struct builder *builder, const struct grid *drawn); /* gauge/size.c */
bool plan_part_counts_itself(const struct builder *builder, int part); /* gauge/size.c */
void plan_fit_gauge(struct builder *builder); /* fit/fit.c: after plan_gauge_set() */
void plan_gauge_scale(struct builder *builder, struct rational ratio); /* gauge/gauge.c */
void plan_fit_set(struct builder *builder, struct plan_band *band); /* fit/fit.c: remedies, her pick */
/* The ways round of a band with a measure, were its count its own. */
const struct fit_answer *plan_fit_alone(struct builder *builder, const struct plan_band *band);
void plan_fit_say(struct builder *builder); /* fit/fit_beside.c: once the parts beside are known */
/* Counts of parts without one of their own, from those of the others. (gauge/size.c) */
void plan_counts_spread(struct builder *builder);
void plan_together_set(struct builder *builder); /* fit/together.c */
/* The count nearest the target that suits a band and all that share its count (`count = as below`, and a
 * rib that goes on with it), edges left out; 0: none. *sharers: the names of those, or NULL.
 * (fit/together.c) */
int64_t plan_together_nearest(const struct builder *builder, const struct plan_band *band,
                              struct rational target, const char **sharers);
/* The next band at or after part `from` that takes the count of the one below (`count = as below`); nparts: the
 * next part with a count of its own takes none, or there is no such part. (fit/together.c) */
int plan_next_taker(const struct builder *builder, int from);
/* The count nearest the target, and within reach of it, of a plain part that all bands which take it can have; of
 * two as near the larger; 0: none. (fit/together.c) */
int64_t plan_together_taken(const struct builder *builder, int part, struct rational target,
                            struct rational reach);
void plan_cast_on_set(struct builder *builder); /* gauge/size.c */
void plan_steps_set(struct builder *builder);  /* gauge/steps.c */
void plan_sewn_set(struct builder *builder);   /* gauge/sewn.c: what the seam takes up */
void plan_bands_fill(struct builder *builder); /* catches/bands.c: floats, catches, remedies */
void plan_catches_place(struct builder *builder, struct plan_band *band); /* catches/catches.c */
/* Once colours and floats at the edges are known: spares, no room, cautions. (catches/catches.c) */
void plan_catches_judge(struct builder *builder, struct plan_band *band);
/* The band as rows with two ends. (catches/bands.c) */
struct catch_open plan_open_piece(const struct builder *builder, const struct plan_band *band);
/* Fewest catches of a filled band's floats, counted by length, were leave_sts the longest left loose. */
int64_t plan_band_fewest(const struct plan_band *band, int leave_sts);
struct catch_rules plan_catch_rules(const struct builder *builder, const struct plan_band *band);
void plan_centre_set(struct builder *builder);  /* wear/centre.c */
void plan_fronts_set(struct builder *builder);  /* wear/centre.c */
void plan_stretch_set(struct builder *builder); /* wear/stretch.c */
/* What a band must pass, inches, and with how few stitches it does; 0: nothing. (wear/stretch.c) */
double plan_stretch_must_in(const struct builder *builder, const struct plan_band *band);
void plan_stretch_ask(const struct builder *builder, const struct plan_band *band,
                      struct fit_question *question);
int64_t plan_stretch_least_sts(const struct builder *builder, const struct plan_band *band);
void plan_borders_set(struct builder *builder); /* fit/borders.c */
void plan_yarns_set(struct builder *builder);  /* yarn/yarns.c */
/* Yarn in so many stitches of the bands, floats behind so many, and catches. (yarn/yarns.c) */
double plan_worked_mm(const struct builder *builder, int yarn, int64_t stitches, int64_t float_stitches,
                      int64_t catches);
void plan_range_set(struct builder *builder);  /* yarn/range.c */
/* What to buy of a yarn if it takes length_m: by the margin, and more where the confidence wants it.
 * margin_balls (or NULL) is told. Returned: false where balls cannot be counted. (yarn/range.c) */
bool plan_range_buy(const struct builder *builder, int yarn, double length_m, struct ball_count *buy,
                    int64_t *margin_balls);
/* The last ball nearly used up, or hardly touched: one that might be saved, not the only yarn there is.
 * beside: there is some in hand. (yarn/range.c) */
enum close_call plan_range_call(const struct builder *builder, const struct ball_count *buy, bool beside);
/* How so much of a yarn, by use, grows with each cause; and the errors of the causes for it. */
struct likely_growth plan_range_growth(const struct builder *builder, int yarn,
                                       const double use_m[USE_COUNT]);
struct likely_errors plan_range_errors(const struct builder *builder, int yarn);
/* What her scale counts in: scale where it is given, or as finely as she wrote the weight, in units
 * of so many grams. */
double plan_scale_step_g(const struct builder *builder, const struct given_grams *scale,
                         struct rational mass_g, struct rational unit_g); /* yarn/loop.c */

/* mm[nyarns], added to: yarn of the swatches; plain_yarn: that of the plain one. */
void plan_swatch_add(const struct builder *builder, int plain_yarn, double *mm); /* yarn/swatch.c */
/* Its size is from lengths, not from the stitches that were weighed. */
bool plan_swatch_by_size(const struct builder *builder); /* yarn/swatch.c */

/* The yarn weight usual at a gauge, "Light or Fine" where two are as near; NULL: none. (gauge/yarn_weight.c) */
const char *plan_weight_name(const struct builder *builder, struct rational per_in);
struct table;
/* Middle of the gauges of a yarn weight, stitches to the inch. (gauge/yarn_weight.c) */
struct rational plan_weight_per_in(const struct table *weights, int row);

/* For her own piece only. */
void plan_swatches_set(struct builder *builder, struct plan *plan); /* yarn/swatch.c */
void plan_tries_set(struct builder *builder, struct plan *plan);  /* whatif/variant.c */
void plan_sizes_set(struct builder *builder, struct plan *plan);  /* whatif/sizes.c */
void plan_ladder_set(struct builder *builder, struct plan *plan); /* whatif/ladder.c */
/* The project with the ladder asked for; without a swatch at an assumed gauge. (whatif/ladder.c) */
const struct project *plan_ladder_project(struct work *work, const struct project *project);
void plan_duplicates_set(struct builder *builder, struct plan *plan); /* whatif/duplicates.c */
void plan_recolours_set(struct builder *builder, struct plan *plan); /* motif/recolour.c */
void plan_exchanged_set(struct builder *builder, struct plan *plan);  /* whatif/exchanged.c */
void plan_calls_set(struct builder *builder, struct plan *plan);    /* whatif/calls.c */
void plan_weigh_in_set(struct builder *builder, struct plan *plan); /* yarn/weigh_in.c */
bool plan_is_sewn(const struct plan_piece *piece); /* there is something to sew on; yarn/weigh_in.c */
/* Back from the end of the last piece, row by row, to where wanted_m are still to be knitted;
 * by->yarn is told. Returned: false where there are not so many. *rest_m: what is. */
bool plan_weigh_in_find(const struct builder *builder, int make, double wanted_m,
                        struct plan_weigh_by *by, double *rest_m); /* yarn/weigh_in.c */
void plan_weighed_set(struct builder *builder, struct plan *plan); /* yarn/weighed.c */
void plan_candidates_set(struct builder *builder, struct plan *plan); /* gauge/size.c */

#endif
