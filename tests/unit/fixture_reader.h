/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A project of one band in the round, made here, whose chart of any squares is proof-read.
 */
#ifndef STRANDWISE_FIXTURE_READER_H
#define STRANDWISE_FIXTURE_READER_H

#include <string.h>

#include "base/tables.h"
#include "fixture_work.h"
#include "plan/motif/proofread.h"

enum { READER_SIDE_MAX = 60, READER_CELLS_MAX = (READER_SIDE_MAX + 1) * READER_SIDE_MAX };

struct reader {
    struct work work;
    struct part part;
    struct yarn yarns[3];
    struct project project;
    struct chart chart;
    const struct chart *charts[1];
    uint8_t cell[READER_CELLS_MAX];
};

static inline void reader_begin(struct reader *reader, int nrows, int ncols, bool upwards)
{
    static const char *const names[] = {"linen", "ink", "rust"};

    memset(reader, 0, sizeof *reader);
    reader->work = fixture_work();
    reader->work.tables = tables_load(&reader->work);
    reader->part.kind = PART_BAND;
    reader->part.name = "band";
    reader->part.upwards.value = upwards ? 2 : 1;
    for (int i = 0; i < 3; i++) {
        reader->yarns[i].name = names[i];
        reader->yarns[i].duplicate_over.index = -1;
    }
    reader->project.worked.value = WORKED_ROUND;
    reader->project.parts = &reader->part;
    reader->project.nparts = 1;
    reader->project.yarns = reader->yarns;
    reader->project.nyarns = 3;
    reader->chart.repeat = (struct grid){nrows, ncols, reader->cell};
    reader->chart.name = "band.chart";
    reader->charts[0] = &reader->chart;
}

static inline const struct proof_chart *reader_read(struct reader *reader)
{
    return &proofread(&reader->work, &reader->project, reader->charts)->charts[0];
}

#endif
