package catchbay.run;

import static catchbay.signal.TemperaturePlace.REFERENCE;
import static catchbay.signal.TemperaturePlace.ROOM;
import static catchbay.signal.TemperaturePlace.TANK;
import static catchbay.signal.TemperaturePlace.TRUCK_METER;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.run.Outcome.Cause;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;

import org.junit.jupiter.api.Test;

import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Whole runs with thermometers, against sums worked by hand at 0.00045 per kelvin. */
final class WarmthTest {

    private static final double PER_KELVIN = 0.000_45;

    private static Setups setups(
            Optional<Temperature> truck, Optional<Temperature> reference, TemperaturePlace... at) {
        Setups setups = new Setups();
        setups.doubts =
                Setups.NONE.with(
                        new Doubts.Temperatures(
                                truck,
                                reference,
                                Optional.empty(),
                                2,
                                Optional.of(PER_KELVIN),
                                new Doubts.Sensors(Set.of(at), 0.5, 5 * Setups.SECOND)));
        return setups;
    }

    private static Setups sensors(TemperaturePlace... at) {
        return setups(Optional.empty(), Optional.empty(), at);
    }

    private static double litres(CatchResult result) {
        return result.byReference().orElseThrow().volume().litres();
    }

    private static final double PLAIN = litres(new Rehearsal(new Setups()).result());

    private static boolean notes(CatchResult result, String words) {
        return result.notes().stream().anyMatch(note -> note.contains(words));
    }

    @Test
    void whatTheThermometersMeasureMovesTheVolumes() {
        Rehearsal bay = new Rehearsal(sensors(TRUCK_METER, REFERENCE));
        bay.celsius.put(TRUCK_METER, 14.0);
        bay.celsius.put(REFERENCE, 10.0);
        CatchResult result = bay.result();
        assertEquals(PLAIN * (1 + 4 * PER_KELVIN), litres(result), 1e-9);
        assertTrue(
                notes(
                        result,
                        "14.0 C (57.2 F) at the truck's meter, 10.0 C (50.0 F) at the"
                                + " reference meter"),
                result.notes().toString());
        // Two even spreads of 0.5 K: a variance of 2 x 0.25 / 3.
        assertEquals(
                PLAIN * PER_KELVIN * Math.sqrt(2 * 0.25 / 3),
                Rehearsal.termLitres(result.byReference().orElseThrow(), "truck meter against"),
                1e-6);
    }

    @Test
    void whatIsMeasuredStandsInPlaceOfWhatWasTyped() {
        Setups setups =
                setups(
                        Optional.of(new Temperature(30)),
                        Optional.of(new Temperature(10)),
                        TRUCK_METER);
        Rehearsal bay = new Rehearsal(setups);
        bay.celsius.put(TRUCK_METER, 12.0);
        CatchResult result = bay.result();
        assertEquals(PLAIN * (1 + 2 * PER_KELVIN), litres(result), 1e-9);
        // One of the two is still typed, and with it how well their difference is known.
        assertEquals(
                PLAIN * PER_KELVIN * 2 / Math.sqrt(3),
                Rehearsal.termLitres(result.byReference().orElseThrow(), "truck meter against"),
                1e-5);
    }

    @Test
    void aStandingWindowIsToldOfAsWell() {
        Setups standing = Setups.display();
        standing.scale = false;
        double plain = litres(new Rehearsal(standing).result());
        standing.doubts = sensors(TRUCK_METER, REFERENCE).doubts;
        Rehearsal bay = new Rehearsal(standing);
        bay.celsius.put(TRUCK_METER, 14.0);
        assertEquals(plain * (1 + 4 * PER_KELVIN), litres(bay.result()), 1e-9);
    }

    /** 4 K more from the middle of a window on: the mean is 2 K more. */
    @Test
    void theMeanIsThatOfTheWindow() {
        Rehearsal bay = new Rehearsal(sensors(TRUCK_METER, REFERENCE));
        bay.celsius.put(TRUCK_METER, 50.0);
        bay.run(3);
        bay.celsius.put(TRUCK_METER, 10.0);
        bay.until("catching").run(45);
        bay.celsius.put(TRUCK_METER, 14.0);
        assertEquals(PLAIN * (1 + 2 * PER_KELVIN), litres(bay.result()), PLAIN * PER_KELVIN * 0.1);
    }

    @Test
    void whereNothingTellsOfTheReferenceTheTankDoes() {
        Rehearsal bay = new Rehearsal(sensors(TRUCK_METER, TANK));
        bay.celsius.put(TRUCK_METER, 14.0);
        bay.celsius.put(TANK, 9.0);
        assertEquals(PLAIN * (1 + 5 * PER_KELVIN), litres(bay.result()), 1e-9);
        Rehearsal both = new Rehearsal(sensors(TRUCK_METER, REFERENCE, TANK));
        both.celsius.put(TRUCK_METER, 14.0);
        both.celsius.put(TANK, 9.0);
        assertEquals(PLAIN * (1 + 4 * PER_KELVIN), litres(both.result()), 1e-9);
    }

    @Test
    void aThermometerThatFailsIsStoodInForByTheSettingsAndSaid() {
        Setups setups =
                setups(
                        Optional.of(new Temperature(30)),
                        Optional.of(new Temperature(10)),
                        TRUCK_METER,
                        REFERENCE);
        Rehearsal bay = new Rehearsal(setups).until("catching").run(20);
        bay.celsius.remove(TRUCK_METER);
        CatchResult result = bay.result();
        assertEquals(PLAIN * (1 + 20 * PER_KELVIN), litres(result), 1e-9);
        assertTrue(
                notes(result, "thermometer at the truck's meter did not tell its temperature"),
                result.notes().toString());
        assertTrue(notes(result, "30.0 C (86.0 F) of the settings"), result.notes().toString());
    }

    @Test
    void aThermometerThatFailsWithNothingInItsPlaceVoidsTheCatch() {
        for (TemperaturePlace place : TemperaturePlace.values()) {
            Rehearsal bay = new Rehearsal(sensors(TRUCK_METER, REFERENCE, TANK, ROOM));
            bay.until("catching").run(20);
            bay.celsius.remove(place);
            Outcome outcome = bay.outcome();
            if (place == TANK) {
                assertInstanceOf(Outcome.Measured.class, outcome, "the reference tells it, too");
                continue;
            }
            Outcome.Void end = assertInstanceOf(Outcome.Void.class, outcome);
            assertEquals(Cause.TEMPERATURE_LOST, end.cause(), end.reason());
        }
    }

    /** The mean stands on the other readings; common practice, no source, is to say so. */
    @Test
    void figuresThatWereLeftOutAreRemarked() {
        for (double odd : new double[] {48, 85, -127}) {
            Rehearsal bay = new Rehearsal(sensors(TANK)).until("catching").run(10);
            bay.celsius.put(TANK, odd);
            bay.run(1);
            bay.celsius.put(TANK, 10.0);
            CatchResult result = bay.result();
            assertTrue(
                    notes(result, "Of the thermometer at the tank, 1 of "),
                    result.notes().toString());
        }
        assertTrue(!notes(new Rehearsal(sensors(TANK)).result(), "Of the thermometer"));
    }

    /** One answer of a window's sixty may be missing without a word, not one in five. */
    @Test
    void answersThatAreMissingAreRemarkedWhereThereAreMany() {
        assertTrue(!notes(withMissing(1), "Of the thermometer"));
        assertTrue(
                notes(withMissing(20), "did not count (last: the wire is cut)"),
                withMissing(20).notes().toString());
    }

    private static CatchResult withMissing(int answers) {
        Rehearsal bay = new Rehearsal(sensors(TANK)).until("catching").run(10);
        for (int i = 0; i < answers; i++) {
            bay.give(missing(bay.now(), TANK));
        }
        return bay.result();
    }

    private static RunInput missing(long at, TemperaturePlace place) {
        return new RunInput.Thermometer(
                at, place, new TemperatureReading.Missing("the wire is cut"));
    }

    @Test
    void aThermometerThatNeverToldAnythingEndsItBeforeLiquidFlows() {
        Rehearsal bay = new Rehearsal(sensors(REFERENCE));
        bay.celsius.remove(REFERENCE);
        bay.give(missing(0, REFERENCE));
        Outcome.Void end = assertInstanceOf(Outcome.Void.class, bay.outcome());
        assertEquals(Cause.TEMPERATURE_LOST, end.cause(), end.reason());
        assertTrue(end.reason().contains("nothing has flowed"), end.reason());
        assertEquals(List.of("idle", "confirming", "ended"), bay.course);
        Rehearsal typed =
                new Rehearsal(
                        setups(Optional.empty(), Optional.of(new Temperature(10)), REFERENCE));
        typed.celsius.remove(REFERENCE);
        typed.give(missing(0, REFERENCE));
        assertTrue(notes(typed.result(), "of the settings was taken"));
        Rehearsal spare = new Rehearsal(sensors(REFERENCE, TANK));
        spare.celsius.remove(TANK);
        spare.give(missing(0, TANK));
        assertTrue(notes(spare.result(), "the tank did not tell its temperature"));
    }

    @Test
    void readingsThatCannotBeAreSaid() {
        Rehearsal bay = new Rehearsal(sensors(ROOM)).until("catching");
        bay.celsius.put(ROOM, 85.0);
        Outcome.Void end = assertInstanceOf(Outcome.Void.class, bay.outcome());
        assertTrue(end.reason().contains("powered on"), end.reason());
    }

    @Test
    void liquidOutsideTheReferencesLimitsIsNotMeasured() {
        Setups setups = sensors(REFERENCE);
        setups.doubts =
                new Doubts(
                        new Doubts.Reference(
                                Ratio.ZERO,
                                Ratio.ZERO,
                                0,
                                Optional.of(new Temperature(5)),
                                Optional.of(new Temperature(25))),
                        setups.doubts.scale(),
                        setups.doubts.diverter(),
                        setups.doubts.temperatures(),
                        setups.doubts.line(),
                        Ratio.ZERO,
                        Ratio.ZERO,
                        setups.doubts.scatter());
        assertEquals(List.of(), SetupCheck.problems(setups.build()), "a thermometer tells it");
        assertEquals(PLAIN, litres(new Rehearsal(setups).result()), 1e-9);
        Rehearsal cold = new Rehearsal(setups);
        cold.celsius.put(REFERENCE, 4.9);
        Outcome.Void end = assertInstanceOf(Outcome.Void.class, cold.outcome());
        assertEquals(Cause.OUT_OF_RANGE, end.cause(), end.reason());
        assertTrue(end.reason().contains("4.9 C"), end.reason());
    }

    @Test
    void aThermometerAtTheTruckAloneIsRefused() {
        List<String> problems = SetupCheck.problems(sensors(TRUCK_METER, ROOM).build());
        assertEquals(1, problems.size(), problems::toString);
        assertTrue(problems.getFirst().contains("truck-meter alone"), problems::toString);
    }

    /** Without the setting a reading changes nothing. */
    @Test
    void aThermometerThatTheSetupDoesNotNameIsNotHeard() {
        Rehearsal bay = new Rehearsal(new Setups());
        bay.celsius.put(TRUCK_METER, 40.0);
        bay.celsius.put(REFERENCE, 10.0);
        CatchResult result = bay.result();
        assertEquals(PLAIN, litres(result));
        assertTrue(!notes(result, "thermometer"), result.notes().toString());
    }
}
