/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Picture charts. The first byte is `across`; the check sums of the chunks are set right, or
 * nearly every input would be refused for those alone.
 */
#include <string.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/source.h"
#include "fuzz_chart.h"

static uint32_t crc(const uint8_t *bytes, size_t size)
{
    uint32_t sum = 0xFFFFFFFFu;

    for (size_t i = 0; i < size; i++) {
        sum ^= bytes[i];
        for (int bit = 0; bit < 8; bit++)
            sum = sum & 1 ? sum >> 1 ^ 0xEDB88320u : sum >> 1;
    }
    return ~sum;
}

static uint32_t read_big(const uint8_t *at)
{
    return (uint32_t)at[0] << 24 | (uint32_t)at[1] << 16 | (uint32_t)at[2] << 8 | at[3];
}

/* Chunks are length, name, data, sum; the sum is over name and data. */
static void mend_sums(uint8_t *bytes, size_t size)
{
    size_t at = 8;

    while (size >= 12 && at <= size - 12) {
        size_t length = read_big(bytes + at);
        uint32_t sum;

        if (length > size - 12 - at)
            return;
        sum = crc(bytes + at + 4, length + 4);
        for (int i = 0; i < 4; i++)
            bytes[at + 8 + length + (size_t)i] = (uint8_t)(sum >> (24 - 8 * i));
        at += length + 12;
    }
}

static void body(struct work *work, const uint8_t *data, size_t size)
{
    struct place nowhere = {0};
    const struct project *project =
        project_read_source(work, source_from_text(work, "project.ini", chart_project));
    uint8_t *bytes = arena_alloc(work->arena, size, 1);
    const struct source *source;
    const struct chart *chart;

    if (size < 1)
        return;
    memcpy(bytes, data + 1, size - 1);
    mend_sums(bytes, size - 1);
    source = source_read(work, fuzz_file("a.png", bytes, size - 1), SOURCE_BINARY, CHART_BYTES_MAX,
                         nowhere);
    chart = source ? chart_read_png(work, project, source, data[0], nowhere) : NULL;
    if (chart)
        check_chart(chart, project);
    else
        FUZZ_HOLDS(diagnostics_fatal(work->diagnostics));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fuzz_run(body, data, size);
    return 0;
}
