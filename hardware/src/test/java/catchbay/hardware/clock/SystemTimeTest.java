package catchbay.hardware.clock;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortProvider;
import catchbay.port.Timekeeper;

import org.junit.jupiter.api.Test;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.ServiceLoader;

class SystemTimeTest {

    private final Timekeeper time = open();

    /**
     * Outside check: HotSpot's System.nanoTime on Linux is CLOCK_MONOTONIC (its os_posix.cpp), read
     * by its own code.
     */
    @Test
    void theClockIsTheKernelsMonotonicOne() throws PortException {
        MonotonicClock clock = MonotonicClock.open();
        for (int i = 0; i < 10_000; i++) {
            long before = clock.nanos();
            long told = System.nanoTime();
            long after = clock.nanos();
            assertTrue(before <= told && told <= after, before + " " + told + " " + after);
        }
    }

    @Test
    void theBootHasTheKernelsName() throws IOException {
        assertEquals(
                Files.readString(Path.of("/proc/sys/kernel/random/boot_id")).strip(),
                time.bootId());
    }

    @Test
    void sleepEndsAtOrAfterItsDeadline() {
        for (long millis : new long[] {0, 1, 5, 20}) {
            long deadline = time.monotonicNanos() + millis * 1_000_000;
            time.sleepUntil(deadline);
            assertTrue(time.monotonicNanos() >= deadline);
        }
    }

    @Test
    void anInterruptedSleepKeepsItsDeadlineAndTheMark() {
        Thread.currentThread().interrupt();
        long deadline = time.monotonicNanos() + 20_000_000;
        time.sleepUntil(deadline);
        assertTrue(time.monotonicNanos() >= deadline);
        assertTrue(Thread.interrupted(), "the mark is set again");
    }

    @Test
    void wallTimeIsTheCalendars() {
        assertTrue(
                Duration.between(time.wallTime(), Instant.now())
                                .abs()
                                .compareTo(Duration.ofMinutes(1))
                        < 0);
    }

    @Test
    void aClockIsBehindItsOwnTimekeeperOnly() throws PortException {
        MonotonicClock clock = MonotonicClock.open();
        assertTrue(clock.isBehind(time));
        assertFalse(clock.isBehind(shifted(-1_000_000_000)));
        assertFalse(clock.isBehind(shifted(1_000_000_000)));
    }

    @Test
    void settingsFindItAsSystem() {
        List<PortProvider> found =
                ServiceLoader.load(PortProvider.class).stream()
                        .map(ServiceLoader.Provider::get)
                        .filter(provider ->
                                provider.kind() == PortKind.TIME
                                        && provider.name().equals("system"))
                        .toList();
        assertEquals(1, found.size());
        assertFalse(found.getFirst().simulated());
    }

    private static Timekeeper open() {
        try {
            return (Timekeeper) new SystemTime().open(null);
        } catch (PortException failure) {
            throw new AssertionError(failure);
        }
    }

    private Timekeeper shifted(long nanos) {
        return new Timekeeper() {
            @Override
            public long monotonicNanos() {
                return time.monotonicNanos() + nanos;
            }

            @Override
            public Instant wallTime() {
                return time.wallTime();
            }

            @Override
            public String bootId() {
                return time.bootId();
            }

            @Override
            public boolean movesOnlyInSleep() {
                return false;
            }

            @Override
            public void sleepUntil(long deadlineNanos) {
                time.sleepUntil(deadlineNanos);
            }
        };
    }
}
