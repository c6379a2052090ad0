/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers, quantities and lists of them: whatever is read is a number in range, whatever is
 * refused names a place inside the text.
 */
#include "base/number.h"
#include "fuzz.h"

static void check_value(struct rational value)
{
    FUZZ_HOLDS(value.den > 0);
    FUZZ_HOLDS(value.den == 1 || value.num % value.den != 0);
}

static void body(struct work *work, const uint8_t *data, size_t size)
{
    enum { LIMIT = 5 };
    const char *text = (const char *)data;
    struct rational value;
    struct quantity quantity, list[LIMIT];
    size_t used = 0, fault_at = 0, offsets[LIMIT];
    int count = 0;

    (void)work;
    if (number_read(text, size, &value, &used) == NUMBER_OK) {
        check_value(value);
        FUZZ_HOLDS(used > 0 && used <= size);
    }
    if (quantity_read(text, size, &quantity, &fault_at) == NUMBER_OK) {
        check_value(quantity.value);
        FUZZ_HOLDS(quantity.unit < UNIT_COUNT);
        (void)quantity_inches(quantity, UNIT_INCH);
        (void)quantity_grams(quantity, UNIT_GRAM);
        (void)quantity_metres(quantity, UNIT_METRE);
    } else {
        FUZZ_HOLDS(fault_at <= size);
    }
    if (quantity_list_read(text, size, list, offsets, LIMIT, &count, &fault_at) != NUMBER_OK) {
        FUZZ_HOLDS(fault_at <= size);
        return;
    }
    FUZZ_HOLDS(count > 0);
    for (int i = 0; i < count && i < LIMIT; i++) {
        check_value(list[i].value);
        FUZZ_HOLDS(offsets[i] < size);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fuzz_run(body, data, size);
    return 0;
}
