/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A project file in which nothing is wrong, to be spoilt one place at a time. Invented.
 */
#ifndef STRANDWISE_FIXTURE_PROJECT_H
#define STRANDWISE_FIXTURE_PROJECT_H

#include "base/tables.h"
#include "fixture_work.h"
#include "read/project/project.h"

static const char fixture_good[] =
    /*  1 */ "[project]\n"
    /*  2 */ "title = Cuffs\n"
    /*  3 */ "make = 2\n"
    /*  4 */ "worked = round\n"
    /*  5 */ "units = in\n"
    /*  6 */ "[swatch]\n"
    /*  7 */ "worked = round\n"
    /*  8 */ "washed = yes\n"
    /*  9 */ "over = 4 in\n"
    /* 10 */ "stitches = 31 1/2, 32, 32 1/4\n"
    /* 11 */ "rows = 38, 38 1/2, 38\n"
    /* 12 */ "unravelled = 40 stitches: cream 28 took 15 1/8 in, slate 12 took 9 5/8 in\n"
    /* 13 */ "weight = 6.6 g: 40 stitches, 44 rows\n"
    /* 14 */ "needle = 2.75 mm\n"
    /* 15 */ "[measure]\n"
    /* 16 */ "around = 10 1/4 in\n"
    /* 17 */ "ease = 2 %\n"
    /* 18 */ "[cast-on]\n"
    /* 19 */ "kind = long tail\n"
    /* 20 */ "yarn = cream\n"
    /* 21 */ "rib = knit 2 purl 2, 12 rounds\n"
    /* 22 */ "rib stitches = 72\n"
    /* 23 */ "[band ripple]\n"
    /* 24 */ "chart = ripple.chart\n"
    /* 25 */ "repeats = fit\n"
    /* 26 */ "plain before = 1 round cream\n"
    /* 27 */ "[plain leg]\n"
    /* 28 */ "yarn = cream\n"
    /* 29 */ "length = 5 in\n"
    /* 30 */ "[yarn cream]\n"
    /* 31 */ "mark = .\n"
    /* 32 */ "shade = #f3ead7\n"
    /* 33 */ "ball = 50 g, 210 m\n"
    /* 34 */ "[yarn slate]\n"
    /* 35 */ "mark = x\n"
    /* 36 */ "[float]\n"
    /* 37 */ "leave up to = 1 in\n"
    /* 38 */ "slack = 10 %\n"
    /* 39 */ "stagger = 2\n"
    /* 40 */ "spare catches = yes\n"
    /* 41 */ "clear ends = 1\n"
    /* 42 */ "[edges]\n"
    /* 43 */ "selvedge = 0\n"
    /* 44 */ "bind-off = standard, cream\n"
    /* 45 */ "edges = anchor\n"
    /* 46 */ "[try thicker]\n"
    /* 47 */ "over = 4 in\n"
    /* 48 */ "stitches = 22, 22\n"
    /* 49 */ "rows = 26, 26\n"
    /* 50 */ "ball = 50 g, 120 m\n"
    /* 51 */ "[wearer]\n"
    /* 52 */ "child = no\n";

/* A good file with `from` (found once) turned into `to`; from "": `to` put at the end. */
static inline const char *fixture_spoilt(struct work *work, const char *from, const char *to)
{
    const char *found = *from ? strstr(fixture_good, from) : fixture_good + strlen(fixture_good);

    if (!found) {
        fprintf(stderr, "not in the good file: %s\n", from);
        abort();
    }
    return arena_printf(work->arena, "%.*s%s%s", (int)(found - fixture_good), fixture_good, to,
                        found + strlen(from));
}

static inline struct work fixture_work_with_tables(void)
{
    struct work work = fixture_work();

    work.tables = tables_load(&work);
    return work;
}

static inline const struct project *fixture_read(struct work *work, const char *text)
{
    return project_read_source(work, source_from_text(work, "test.ini", text));
}

/* A place to spoil, and the one message that must come of it. */
struct spoilt {
    const char *from, *to;
    enum diag_code code;
    int line, column;
    const char *words; /* in what or todo */
};

/* The message of the case is there, at its place; and no other of its severity. */
static inline void fixture_assert_only(struct work *work, const struct spoilt *spoilt)
{
    int count, same = 0, fits = 0;
    const struct diag *diag = diagnostics_sorted(work->diagnostics, &count);

    for (int i = 0; i < count; i++) {
        same += diag_code_severity(diag[i].code) == diag_code_severity(spoilt->code);
        fits += diag[i].code == spoilt->code && diag[i].at.line == spoilt->line &&
                diag[i].at.column == spoilt->column &&
                (strstr(diag[i].what, spoilt->words) ||
                 (diag[i].todo && strstr(diag[i].todo, spoilt->words)));
    }
    CU_ASSERT_EQUAL(same, 1);
    CU_ASSERT_EQUAL(fits, 1);
    if (same == 1 && fits == 1)
        return;
    fprintf(stderr, "\n\"%s\" -> \"%s\" wants %s at %d:%d (%s)\n", spoilt->from, spoilt->to,
            diag_code_text(spoilt->code), spoilt->line, spoilt->column, spoilt->words);
    for (int i = 0; i < count; i++)
        fprintf(stderr, "  %d:%d [%s] %s %s\n", diag[i].at.line, diag[i].at.column,
                diag_code_text(diag[i].code), diag[i].what, diag[i].todo ? diag[i].todo : "");
}

#endif
