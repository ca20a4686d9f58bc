package catchbay.architecture;

import static catchbay.architecture.HouseRules.banned;
import static catchbay.architecture.HouseRules.everywhere;
import static catchbay.architecture.HouseRules.inPureRooms;
import static catchbay.architecture.HouseRules.outside;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.lang.ArchRule;

import org.junit.jupiter.api.Test;
import org.opentest4j.AssertionFailedError;

import java.util.List;
import java.util.Set;

/** Each rule of the house catches what was planted against it, and only that. */
final class PlantedViolatorsTest {

    private static final String BASE = "catchbay.architecture.planted";

    private static final JavaClasses PLANTED = new ClassFileImporter().importPackages(BASE);

    @Test
    void roomsAndLibraries() {
        assertCaught(
                HouseRules.roomsSeeOnlyWhatTheyMay(BASE),
                List.of(
                        BASE + ".cellar.Homeless is in no room",
                        BASE + ".run.Timed is banned in room quantity",
                        "java.nio.file.Path is banned in room quantity",
                        "java.util.concurrent.atomic.AtomicLong is banned in room quantity",
                        "java.time.Clock is banned in room run",
                        "java.lang.Thread is banned in room run",
                        "java.util.UUID is banned in room signal",
                        "com.fasterxml.jackson.databind.ObjectMapper is banned in room store",
                        "java.net.Socket is banned in room store",
                        "java.util.logging.Logger is banned in room store"),
                List.of("java.sql.Connection is banned", "java.lang.String is banned"));
    }

    @Test
    void realTime() {
        assertCaught(
                banned(Ban.REAL_TIME, everywhere()),
                List.of(
                        "System.nanoTime is banned, use the port Timekeeper",
                        "System.currentTimeMillis is banned",
                        "Instant.now is banned",
                        "LocalDate.now is banned",
                        "Clock.systemUTC is banned",
                        "Date.<init> is banned",
                        "Thread.sleep is banned, use Timekeeper.sleepUntil",
                        "TimeUnit.sleep is banned",
                        "LockSupport.parkNanos is banned"),
                List.of("System.getProperty"));
    }

    @Test
    void chance() {
        assertCaught(
                banned(Ban.CHANCE_WITHOUT_SEED, everywhere()),
                List.of(
                        "Math.random is banned",
                        "Random.<init> is banned",
                        "SplittableRandom.<init> is banned",
                        "ThreadLocalRandom.current is banned",
                        "RandomGenerator.getDefault is banned",
                        "RandomGeneratorFactory.create is banned, use create(seed)",
                        "UUID.randomUUID is banned",
                        "Collections.shuffle is banned"),
                List.of("Chancy.withSeed"));
        assertCaught(banned(Ban.CHANCE, everywhere()), List.of("Chancy.withSeed"), List.of());
        assertCaught(
                banned(Ban.CHANCE_MADE, everywhere()),
                List.of(
                        "RandomGenerator.getDefault is banned, use the caller's generator",
                        "RandomGeneratorFactory.of is banned"),
                List.of("RandomGenerator.nextDouble"));
    }

    @Test
    void defaultLocale() {
        assertCaught(
                banned(Ban.DEFAULT_LOCALE, everywhere()),
                List.of(
                        "String.format is banned, use the variant with Locale.ROOT",
                        "String.formatted is banned",
                        "String.toLowerCase is banned",
                        "PrintStream.printf is banned",
                        "ZoneId.systemDefault is banned"),
                List.of("Local.allowed"));
    }

    @Test
    void machineInPureRooms() {
        assertCaught(
                banned(Ban.MACHINE_MATH, inPureRooms(BASE)),
                List.of("Math.exp is banned, use the same function of StrictMath"),
                List.of("Math.abs"));
        assertCaught(
                banned(Ban.MACHINE, inPureRooms(BASE)),
                List.of("System.getProperty is banned", "System.nanoTime is banned"),
                List.of("port.Local"));
    }

    @Test
    void threads() {
        assertCaught(
                banned(Ban.THREAD, everywhere()),
                List.of(
                        "Thread.<init> is banned, use the one loop",
                        "Thread.ofVirtual is banned",
                        "Executors.newSingleThreadExecutor is banned",
                        "List.parallelStream is banned",
                        "Stream.parallel is banned"),
                List.of());
        banned(Ban.THREAD, outside(Set.of(BASE + ".app.Threaded"))).check(PLANTED);
    }

    @Test
    void modules() {
        assertCaught(
                HouseRules.onlyLibraries(Set.of("catchbay")),
                List.of("com.fasterxml.jackson.databind.ObjectMapper is banned in this module"),
                List.of("java.sql.Connection"));
        assertCaught(
                HouseRules.neverSees(BASE + ".run"),
                List.of(BASE + ".run.Timed is banned"),
                List.of("java.sql"));
    }

    @Test
    void classesThatWereNotLookedAt() {
        AssertionFailedError nothing =
                assertThrows(AssertionFailedError.class, () -> Imported.assertComplete(PLANTED));
        assertTrue(nothing.getMessage().contains("Homeless"), nothing.getMessage());
        assertThrows(
                AssertionFailedError.class,
                () -> Imported.assertExist(PLANTED, Set.of(BASE + ".app.Gone")));
        Imported.assertExist(PLANTED, Set.of(BASE + ".app.Threaded"));
    }

    private static void assertCaught(ArchRule rule, List<String> present, List<String> absent) {
        String details = String.join("\n", rule.evaluate(PLANTED).getFailureReport().getDetails());
        for (String expected : present) {
            assertTrue(details.contains(expected), () -> expected + "\nnot in\n" + details);
        }
        for (String unexpected : absent) {
            assertEquals(-1, details.indexOf(unexpected), () -> unexpected + "\nin\n" + details);
        }
    }
}
