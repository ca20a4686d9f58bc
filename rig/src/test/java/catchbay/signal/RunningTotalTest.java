package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Volume;
import catchbay.seeded.Seeds;
import catchbay.signal.RunningTotal.Amount;

import org.junit.jupiter.api.Test;

final class RunningTotalTest {

    private static final long SECOND = Trains.SECOND;
    private static final long MILLI = Trains.MILLI;
    private static final long OPEN = 10_300 * MILLI;
    private static final long CLOSE = 20_700 * MILLI;
    private static final long FRESH = SECOND;

    /** Readings every half second of a total that grows by 0.2 L/s from 100 L at 0 s. */
    private static RunningTotal take(RunningTotal total, long fromNanos, long untilNanos) {
        RunningTotal next = total;
        for (long at = fromNanos; at <= untilNanos; at += SECOND / 2) {
            next = next.take(at, new Volume(100 + 0.2 * at / 1e9));
        }
        return next;
    }

    private static RunningTotal whole(long lastNanos) {
        RunningTotal before = take(RunningTotal.starting(), 5 * SECOND, 10 * SECOND);
        RunningTotal inside = take(before.open(OPEN), 10_500 * MILLI, 20_500 * MILLI);
        return take(inside.close(CLOSE), 21 * SECOND, lastNanos);
    }

    private static Amount.Known known(Amount amount) {
        return assertInstanceOf(Amount.Known.class, amount);
    }

    private static void assertUnusable(String part, Amount amount) {
        String reason = assertInstanceOf(Amount.Unusable.class, amount).reason();
        assertTrue(reason.contains(part), reason);
    }

    @Test
    void isReadAlongStraightLines() {
        Amount.Known amount = known(whole(21 * SECOND).amount(FRESH));
        assertEquals(0.2 * 10.4, amount.volume().litres(), 1e-12);
        assertEquals(SECOND / 2, amount.apartNanosMax());
    }

    /**
     * Totals that are off independently of each other, by u each: on the line between two of them,
     * at the part w of the way, off by u sqrt(w^2 + (1 - w)^2) (JCGM 100:2008, eq. 10). The opening
     * lies at 0.2 of its way, the closing at 0.8 of it.
     */
    @Test
    void readingBetweenTwoEvensOut() {
        RunningTotal before = take(RunningTotal.starting(), 5 * SECOND, 10 * SECOND);
        RunningTotal inside = take(before.open(10_100 * MILLI), 10_500 * MILLI, 20 * SECOND);
        RunningTotal total = take(inside.close(20_400 * MILLI), 20_500 * MILLI, 21 * SECOND);
        assertEquals(Math.sqrt(0.68), known(total.amount(FRESH)).evenedOut(), 1e-12);
    }

    /** At rest every total is cut to its step alike: a second one says nothing new. */
    @Test
    void readingsThatSayTheSameEvenOutNothing() {
        RunningTotal before =
                RunningTotal.starting()
                        .take(9 * SECOND, new Volume(3))
                        .open(9_500 * MILLI)
                        .take(10 * SECOND, new Volume(3));
        RunningTotal total =
                before.take(19 * SECOND, new Volume(8))
                        .close(19_500 * MILLI)
                        .take(20 * SECOND, new Volume(8));
        assertEquals(5, known(total.amount(FRESH)).volume().litres(), 1e-12);
        assertEquals(1, known(total.amount(FRESH)).evenedOut(), 1e-12);
    }

    @Test
    void isNotKnownBeforeAReadingAfterTheClosing() {
        assertInstanceOf(Amount.NotYet.class, whole(20 * SECOND).amount(FRESH));
        assertInstanceOf(Amount.NotYet.class, RunningTotal.starting().amount(FRESH));
        assertInstanceOf(
                Amount.NotYet.class,
                take(RunningTotal.starting().open(OPEN), 0, CLOSE).amount(FRESH));
    }

    @Test
    void readingsOnTheStampsThemselvesAreEnough() {
        RunningTotal total =
                take(RunningTotal.starting().open(10 * SECOND), 10 * SECOND, 15 * SECOND);
        total = take(total.close(20 * SECOND), 15_500 * MILLI, 20 * SECOND);
        assertEquals(2, known(total.amount(FRESH)).volume().litres(), 1e-12);
        assertEquals(1, known(total.amount(FRESH)).evenedOut(), 1e-12);
    }

    @Test
    void nothingBeforeTheOpeningIsRefused() {
        RunningTotal total = RunningTotal.starting().open(OPEN);
        total = take(total, 11 * SECOND, 20 * SECOND).close(CLOSE);
        assertUnusable("no total before", take(total, 21 * SECOND, 22 * SECOND).amount(FRESH));
    }

    @Test
    void staleTotalsAreRefused() {
        RunningTotal total = take(RunningTotal.starting(), 5 * SECOND, 10 * SECOND).open(OPEN);
        total = take(total, 12 * SECOND, 20 * SECOND).close(CLOSE);
        total = take(total, 21 * SECOND, 21 * SECOND);
        assertUnusable("2000 ms apart", total.amount(FRESH));
        assertEquals(2 * SECOND, known(total.amount(2 * SECOND)).apartNanosMax());
    }

    @Test
    void aResetInTheWindowIsRefusedWhereverItFalls() {
        for (long reset : new long[] {10_500 * MILLI, 15 * SECOND, 21 * SECOND}) {
            RunningTotal total = RunningTotal.starting();
            for (long at = 5 * SECOND; at <= 25 * SECOND; at += SECOND / 2) {
                total = at == 10_500 * MILLI ? total.open(OPEN) : total;
                total = at == 21 * SECOND ? total.close(CLOSE) : total;
                double since = at >= reset ? (at - reset) / 1e9 : 100 + at / 1e9;
                total = total.take(at, new Volume(0.2 * since));
            }
            assertUnusable("went back", total.amount(FRESH));
        }
    }

    @Test
    void aResetBeforeOrAfterTheWindowIsHarmless() {
        for (long reset : new long[] {10 * SECOND, 21_500 * MILLI}) {
            RunningTotal total = RunningTotal.starting();
            for (long at = 5 * SECOND; at <= 25 * SECOND; at += SECOND / 2) {
                total = at == 10_500 * MILLI ? total.open(OPEN) : total;
                total = at == 21 * SECOND ? total.close(CLOSE) : total;
                double since = at >= reset ? (at - reset) / 1e9 : 100 + at / 1e9;
                total = total.take(at, new Volume(0.2 * since));
            }
            assertEquals(0.2 * 10.4, known(total.amount(FRESH)).volume().litres(), 1e-12);
        }
    }

    @Test
    void stampsThatGoBackAreRefused() {
        RunningTotal total = take(RunningTotal.starting(), 5 * SECOND, 10 * SECOND).open(OPEN);
        total = take(total, 11 * SECOND, 12 * SECOND).take(11_700 * MILLI, new Volume(103));
        total = take(total, 12_500 * MILLI, 20 * SECOND).close(CLOSE);
        assertUnusable("went back", take(total, 21 * SECOND, 21 * SECOND).amount(FRESH));
    }

    /** Dripping for minutes: far more readings than are kept, and the window's are still known. */
    @Test
    void whatComesAfterTheClosingIsNotKept() {
        RunningTotal soon = whole(21 * SECOND);
        RunningTotal late = whole(600 * SECOND);
        assertEquals(soon, late);
        assertEquals(21 * SECOND, late.lastNanos());
    }

    /** The opening's readings may long be gone when the window closes. */
    @Test
    void aLongWindowKeepsItsOpening() {
        RunningTotal total = take(RunningTotal.starting(), 5 * SECOND, 10 * SECOND).open(OPEN);
        total = take(total, 10_500 * MILLI, 500 * SECOND);
        assertEquals(RunningTotal.READINGS_MAX, total.readings().size());
        total = take(total.close(500_250 * MILLI), 500_500 * MILLI, 501 * SECOND);
        assertEquals(0.2 * 489.95, known(total.amount(FRESH)).volume().litres(), 1e-10);
    }

    /** The opening may be told late, when readings after it have come. */
    @Test
    void theOpeningMayBeToldLate() {
        Seeds.forSeeds(
                500,
                random -> {
                    long open = 10 * SECOND + random.nextLong(10 * SECOND);
                    long told = open + random.nextLong(5 * SECOND);
                    long close = 30 * SECOND + random.nextLong(10 * SECOND);
                    long toldClose = close + random.nextLong(5 * SECOND);
                    RunningTotal total = RunningTotal.starting();
                    long at = 5 * SECOND;
                    boolean opened = false;
                    boolean closed = false;
                    while (at < 50 * SECOND) {
                        if (!opened && at > told) {
                            total = total.open(open);
                            opened = true;
                        }
                        if (!closed && at > toldClose) {
                            total = total.close(close);
                            closed = true;
                        }
                        total = total.take(at, new Volume(100 + 0.2 * at / 1e9));
                        at += random.nextLong(50 * MILLI, SECOND);
                    }
                    Amount.Known amount = known(total.amount(FRESH));
                    assertEquals(0.2 * (close - open) / 1e9, amount.volume().litres(), 1e-12 * 1e3);
                });
    }
}
