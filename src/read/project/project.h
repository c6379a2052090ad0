/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The project file as written: every value with its place, nothing judged.
 *
 * docs/project-file.md lists each key with unit, range, default and example; keys.h is the
 * same list for the program (`make docs` compares them). Called by run.c.
 */
#ifndef STRANDWISE_PROJECT_H
#define STRANDWISE_PROJECT_H

#include <stdbool.h>
#include <stdint.h>

#include "base/grid.h"
#include "base/number.h"
#include "base/rational.h"
#include "base/source.h"

struct work;

enum {
    PROJECT_BYTES_MAX = 1 << 20,
    PROJECT_BANDS_MAX = 64,  /* bands and plain parts together */
    PROJECT_TRIES_MAX = 64,
    PROJECT_COUNTS_MAX = 50, /* places a gauge is measured in */
    PROJECT_CHARTS_MAX = 64, /* charts side by side */
    PROJECT_SIZES_MAX = 24,  /* finished measures to grade over */
    SWATCH_TIMES_MAX = 9,    /* each way of measuring yarn: unravelled, unravelled 2, ... 9 */
    WEIGHINGS_MAX = 40       /* on the way: weighing, weighing 2, ... 40 */
};

enum worked { WORKED_ROUND, WORKED_FLAT };

/* A value as it holds for the plan, said or not. Where nothing was said (or what was said was refused,
 * which ends in a message) the default of keys.h stands, and where that is none the value itself says
 * so: NULL, 0, rational_none(), a count of 0, a yarn of index -1; what says it otherwise has it in its
 * remark. `at`: where it stands; of what was not said the section, or the file where there is no section. */
struct given_text {
    const char *text;
    struct place at;
};
struct given_whole {
    int value;
    bool said; /* asked by messages alone */
    const char *allowance; /* as of a length */
    struct place at;
};
struct given_choice { /* an enum value, or a bool */
    int value;
    bool said; /* asked by messages alone */
    struct place at;
};
struct given_length {
    struct rational in; /* inches, exactly */
    const char *allowance; /* the row of tables/allowances.csv that stands for it; NULL: hers, or none */
    struct place at;
};
struct given_ratio { /* of per cent: 10 % is 1/10 */
    struct rational ratio;
    const char *allowance; /* as of a length */
    struct place at;
};
struct given_ease { /* a length to add, or a part of the measure; minus for snug */
    bool is_ratio;
    struct rational value; /* inches, or ratio */
    struct place at;
};
struct given_yarn { /* index into project.yarns; -1: no such section, or not said and no default */
    int index;
    const char *name; /* as typed; NULL: not said */
    struct place at;
};

/* Counts measured over one length: `stitches = 31 1/2, 32` with `over = 4 in`. */
struct given_counts {
    int count;
    struct rational value[PROJECT_COUNTS_MAX];
    struct place place[PROJECT_COUNTS_MAX];
    struct place at;
};

/* unravelled = 40 stitches: cream 28 took 15 1/8 in, slate 12 took 9 5/8 in   (stranded)
 * unravelled = 40 stitches took 19 1/4 in                                     (plain)
 * unravelled = 40 stitches of cream took 19 1/4 in                            (plain)
 * marked = 75 stitches took 36 in                                             (plain)
 * row_sts 0: not said. */
struct given_unravelled {
    bool stranded;
    int row_sts;
    struct given_yarn yarn[2];   /* plain: [0], where it is named */
    int yarn_sts[2];             /* stranded only */
    struct rational length_in[2]; /* plain: [0] */
    struct place at;
};

struct given_grams {
    struct rational g;
    struct place at;
};

/* weight = 6.6 g: 40 stitches, 44 rows; rows 0: not said */
struct given_weight {
    struct rational mass_g;
    struct rational unit_g; /* of the unit it was written in */
    int columns, rows;
    struct place at;
};

/* ball weighed = cream 48.3 g to 44.1 g: 1600 stitches, 950 in cream */
struct given_weighed {
    struct given_yarn yarn;
    struct rational before_g, after_g;
    struct rational before_unit_g, after_unit_g; /* of the units they were written in */
    int all_sts, yarn_sts; /* of all the yarns, 0: not said; of this one */
    struct place at;
};

/* pulls = 4 in to 5.3 in, 1 of 2: a swatch pulled as wide as it goes */
struct given_pull {
    struct rational ratio; /* pulled length / relaxed length, more than 1 */
    int own, all;          /* stranded: stitches of the scarcer yarn in a row, of all; default 1 of 2 */
    struct place at;
};

/* cream 94.6 g, slate 42.8 g */
struct yarn_grams {
    struct given_yarn yarn;
    struct rational g, unit_g; /* in grams; grams in the unit it is written in */
    struct place at;
};
struct given_yarn_grams {
    struct yarn_grams *list; /* [count] */
    int count;
    struct place at;
};

enum weighing_place { WEIGHED_BEGIN, WEIGHED_STEP, WEIGHED_SEWING, WEIGHED_PIECE };

/* weighing = to begin with: cream 100 g
 * weighing 2 = after step 5, 2nd time, of piece 2: cream 94.6 g, slate 42.8 g
 * weighing 3 = after sewing: cream 60 g
 * weighing 4 = after piece 2: cream 12 g */
struct given_weighing {
    enum weighing_place place;
    struct given_whole step, time, piece; /* time 0: all of them; piece 1 unless said */
    struct given_yarn_grams left;
};

struct swatch {
    bool is_there; /* the section */
    struct place at; /* the section */
    struct given_choice worked; /* enum worked; default: as the piece */
    struct given_choice washed; /* bool; default: no */
    struct given_length over;
    struct given_counts stitches, rows;
    /* [i]: the key with i + 1 behind it; not every one need be there */
    struct given_unravelled unravelled[SWATCH_TIMES_MAX], marked[SWATCH_TIMES_MAX];
    struct given_weight weight[SWATCH_TIMES_MAX];
    struct given_weighed weighed[SWATCH_TIMES_MAX];
    struct given_grams scale; /* what her scale counts in */
    struct given_length needle; /* thickness of the needle, in inches like every length */
    struct given_pull pulls;
    struct given_length size;   /* of each side, all of it; default from over and the table */
};

struct ball {
    struct rational mass_g;
    struct rational length_m;
    struct place at;
};

/* have = 37 g, or a length: yarn in hand. One of the two is a value. */
struct given_have {
    struct rational mass_g, length_m;
    struct place at;
};

struct yarn {
    const char *name; /* as typed */
    struct place at;
    struct given_text mark;   /* one character (UTF-8) */
    struct given_text shade;  /* as typed */
    unsigned char rgb[3];     /* of the shade, or a default grey by index */
    struct ball ball;
    struct given_have have;   /* a weight only where a ball is given */
    struct given_yarn duplicate_over; /* said: sewn on afterwards, over this one; else knitted */
};

enum rib_stitches { RIB_SAME, RIB_COUNT, RIB_RATIO };
enum cast_on_kind { CAST_ON_LONG_TAIL, CAST_ON_OTHER, CAST_ON_PROVISIONAL };
enum bind_off_kind { BIND_OFF_STANDARD, BIND_OFF_SEWN, BIND_OFF_CORD, BIND_OFF_NONE };
enum placement { PLACEMENT_BY_SIZE = -1, PLACEMENT_BEST, PLACEMENT_QUICK };
enum swatch_fate { SWATCH_KEEP, SWATCH_RIP };
enum edge_habit { EDGE_ANCHOR, EDGE_TURN };

struct cast_on {
    struct place at;
    struct given_choice kind;
    struct given_yarn yarn;       /* default: the first yarn that is knitted */
    struct given_yarn purl_yarn;  /* two-colour rib: the purls */
    struct given_text rib;        /* as typed */
    int rib_knit, rib_purl, rib_rounds; /* rounds 0: no rib */
    enum rib_stitches stitches_kind;
    struct given_whole stitches;  /* RIB_COUNT */
    struct given_ratio ratio;     /* RIB_RATIO */
};

/* "1 round cream": plain rounds before or after a band. */
struct plain_rounds {
    int rounds; /* 0: none */
    struct given_yarn yarn;
    struct place at;
};

enum part_kind { PART_BAND, PART_PLAIN };
enum counts { COUNTS_EACH, COUNTS_TOGETHER };
enum band_count { COUNT_OWN, COUNT_AS_BELOW };
enum remedy_word {
    REMEDY_NONE, REMEDY_ANOTHER_COUNT, REMEDY_SHAPE, REMEDY_PLAIN_COLUMNS, REMEDY_TRIM,
    REMEDY_PAD, REMEDY_PART_REPEATS, REMEDY_PLAIN_SIDES, REMEDY_ANOTHER_GAUGE, REMEDY_REDRAW
};

/* remedy = plain columns, 5 repeats */
struct given_remedy {
    enum remedy_word word;
    int repeats; /* 0: not said */
    struct place at;
};

/* One [band] or [plain], in knitting order. */
struct part {
    enum part_kind kind;
    const char *name;
    struct place at;
    struct given_length around, width; /* its own; else the project's */
    struct given_ratio share;          /* of the project's measure, which it was said by */
    struct given_ease ease;            /* its own, else the project's */
    bool shares_ease;                  /* a share of the measure with its ease, a length: of that too */
    /* PART_BAND */
    int ncharts;
    struct given_text chart[PROJECT_CHARTS_MAX]; /* in knitting order: the first at the right */
    struct given_whole across;  /* a picture: stitches across; 0: one pixel a stitch */
    struct given_whole repeats; /* 0: fit */
    struct given_whole upwards; /* default 1 */
    struct plain_rounds before, after;
    struct given_length must_pass; /* its own; else the project's */
    struct given_choice count;  /* enum band_count; default own */
    struct given_remedy remedy; /* the way round she picked */
    struct given_whole begin;   /* `begin with`: the stitch of the chart worked first; default 1 */
    /* PART_PLAIN */
    struct given_yarn yarn;
    struct given_length length;
    struct given_whole rounds;       /* rounds, or rows */
    struct given_whole stitches;     /* all its stitches, for a part counted otherwise */
    struct given_whole on_needle;    /* `stitches on needle`; 0: as the part beside it */
};

struct try_gauge {
    const char *name;
    struct place at;
    struct given_length over;
    struct given_counts stitches, rows;
    struct given_length needle;
    struct ball ball; /* stands for every yarn's ball */
};

/* sizes = S 8 in, M 9 in: the measure of each, in place of around or width */
struct given_sizes {
    int count;
    const char *name[PROJECT_SIZES_MAX];
    struct rational in[PROJECT_SIZES_MAX];
    struct place at;
};

/* [ladder]: the gauges to go through; without stitches those of the yarn weights. */
struct ladder_gauges {
    bool is_there; /* the section */
    struct place at;
    struct given_length over;
    struct given_counts stitches;
    bool counts_left_out; /* of a project without a gauge, by plan_build_ladder() */
};

struct project {
    const struct source *source;
    struct given_text title;
    struct given_whole make;     /* default 1 */
    struct given_choice worked;  /* enum worked; default round */
    struct given_choice units;   /* UNIT_INCH or UNIT_CM; default inches */
    struct given_text no_stitch; /* mark of an empty square; default "-" */

    struct swatch swatch, swatch_plain;

    struct given_length around, width, height;
    struct given_ease ease;
    struct given_sizes sizes;
    struct given_length must_pass;    /* heel, head or hand */
    struct given_choice counts; /* enum counts; default each */

    struct cast_on cast_on;

    struct part *parts; /* nparts */
    int nparts;
    struct yarn *yarns; /* nyarns, at most GRID_YARNS_MAX */
    int nyarns;
    struct try_gauge *tries; /* ntries */
    int ntries;

    struct ladder_gauges ladder;

    struct given_length leave_up_to, catch_at;
    struct given_ratio slack;         /* 10 %: 1/10 */
    struct given_whole stagger;       /* default 2; 1 to 3 */
    struct given_choice spare_catches; /* bool; default yes */
    struct given_choice placement;     /* enum placement; BY_SIZE: not said */
    struct given_whole clear_ends;    /* default 1; 1 or 2 */
    struct given_length carry_up;     /* longest wait carried */

    struct given_whole selvedge;      /* stitches at each edge; default 0 */
    struct given_whole steek;         /* stitches; default 0 */
    struct given_choice bind_off;     /* enum bind_off_kind; default standard */
    struct given_yarn bind_off_yarn;  /* -1: the last part's */
    struct given_length tail;         /* default from the table */
    struct given_length seam;         /* length to be sewn; default none */
    struct given_choice edges;        /* enum edge_habit; default anchor */

    struct given_ratio margin;        /* default from the table, by method */
    struct given_ratio confidence;    /* that the balls are enough; default from the table */
    struct given_choice swatch_fate;  /* enum swatch_fate; default rip */
    struct given_weighing weighing[WEIGHINGS_MAX]; /* [i]: weighing i + 1; not every one is there */
    struct given_yarn_grams not_yarn; /* bands, cores, a bag: on the scale each time */
    struct given_grams weighed_scale;

    struct given_whole pace_sts_per_hour; /* default from the table */
    struct given_choice child;        /* bool; default no */
};

/* Read path. Every fault of form is reported with its place (unknown keys with "did you
 * mean"). Returned: the project with whatever could be read (so that later stages can find
 * more faults), or NULL when the file itself could not be read. diagnostics_fatal() says
 * whether it may be planned. */
const struct project *project_read(struct work *work, const char *path);

/* The same, and a project without [swatch] is none the worse for it: swatch.is_there is false then. */
const struct project *project_read_any_gauge(struct work *work, const char *path);

/* The same from memory (tests, the starter project). */
const struct project *project_read_source(struct work *work, const struct source *source);

/* Whether it says of any knitting how much yarn went into it. */
bool swatch_measures_yarn(const struct swatch *swatch);

/* The yarn of that name (exact, else ignoring ASCII case), or -1. */
int project_yarn_find(const struct project *project, const char *name);

#endif
