package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.BayComputer.ClockDoubt;

import org.junit.jupiter.api.Test;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;

/** The bits are the firmware's own, as vcgencmd get_throttled is documented; from memory. */
class BayComputerTest {

    private static BayComputer flags(int flags) {
        return new BayComputer(OptionalInt.of(flags), Optional.empty(), OptionalLong.empty());
    }

    @Test
    void whatWasToldTogetherHoldsEveryFlagAndDoubtAndTheLeastSpace() {
        BayComputer all =
                flags(0x1)
                        .and(BayComputer.ofFreeBytes(500))
                        .and(BayComputer.ofClock(Set.of()))
                        .and(flags(0x10000))
                        .and(BayComputer.ofFreeBytes(700))
                        .and(BayComputer.ofClock(Set.of(ClockDoubt.STEPPED)));
        assertEquals(
                new BayComputer(
                        OptionalInt.of(0x10001),
                        Optional.of(Set.of(ClockDoubt.STEPPED)),
                        OptionalLong.of(500)),
                all);
        assertEquals(all, all.and(BayComputer.UNKNOWN));
        assertEquals(all, BayComputer.UNKNOWN.and(all));
    }

    @Test
    void aRunThatBeginsBeforeTheLastOneOnRecordHasAClockToDoubt() {
        Instant began = Instant.parse("2026-02-03T10:00:00Z");
        assertEquals(BayComputer.UNKNOWN, BayComputer.begun(began, Optional.empty()));
        assertEquals(BayComputer.UNKNOWN, BayComputer.begun(began, Optional.of(began)));
        assertEquals(
                BayComputer.ofClock(Set.of(ClockDoubt.BEHIND_RECORDS)),
                BayComputer.begun(began, Optional.of(began.plusMillis(1))));
    }

    @Test
    void nothingIsNotedWhileAllIsWellOrNobodyLooked() {
        assertEquals(List.of(), BayComputer.UNKNOWN.notes());
        assertEquals(List.of(), flags(0).and(BayComputer.ofClock(Set.of())).notes());
        assertEquals(Optional.empty(), BayComputer.UNKNOWN.clockTrusted());
        assertEquals(Optional.of(true), BayComputer.ofClock(Set.of()).clockTrusted());
    }

    @Test
    void eachTroubleHasItsSentenceAndItsTime() {
        assertNotes(flags(0x10001), "short of voltage during this run");
        assertNotes(flags(0x10000), "short of voltage at some time since its start");
        assertNotes(flags(0x4), "slowed itself down during this run");
        assertNotes(flags(0x80000), "slowed itself down at some time since its start");
        assertNotes(
                BayComputer.ofClock(Set.of(ClockDoubt.UNSET, ClockDoubt.BEHIND_RECORDS)),
                "no battery keeps it, and it is before the last run on record");
    }

    private static void assertNotes(BayComputer computer, String words) {
        assertEquals(1, computer.notes().size(), computer.notes().toString());
        assertTrue(computer.notes().getFirst().contains(words), computer.notes().toString());
    }
}
