package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.Temperature;
import catchbay.quantity.VolumeUnit;
import catchbay.run.RunSetup.Feedback;
import catchbay.signal.TemperaturePlace;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;

/** What is expected of a catch is what the same catch then shows: against whole played runs. */
final class ExpectedCatchTest {

    private static CatchResult expected(RunSetup setup) {
        return assertInstanceOf(Outcome.Measured.class, ExpectedCatch.of(setup)).result();
    }

    /** Every uncertain input of the meter error, as large as it was in the played run. */
    private static void sameAsPlayed(Setups setups, double tolerance) {
        RunSetup setup = setups.build();
        Budget foreseen = expected(setup).comparison().budget();
        Budget played = new Rehearsal(setup).result().comparison().budget();
        Budget.Output one = foreseen.output(Comparison.METER_ERROR);
        Budget.Output other = played.output(Comparison.METER_ERROR);
        assertTrue(other.expanded() > 0);
        assertEquals(other.expanded(), one.expanded(), tolerance * other.expanded());
        assertEquals(names(other), names(one));
    }

    private static List<String> names(Budget.Output output) {
        List<String> names = new ArrayList<>();
        output.rows().stream()
                .filter(row -> row.contribution() > 0)
                .forEach(row -> names.add(row.name()));
        return names;
    }

    @Test
    void flying() {
        Setups setups = new Setups();
        setups.doubts = Doubts.USUAL;
        sameAsPlayed(setups, 1e-3);
    }

    @Test
    void twoChannels() {
        Setups setups = new Setups();
        setups.doubts = Doubts.USUAL;
        setups.twoChannels = true;
        sameAsPlayed(setups, 1e-3);
    }

    @Test
    void standingWithADisplay() {
        Setups setups = Setups.display();
        setups.doubts = Doubts.USUAL;
        sameAsPlayed(setups, 0.02);
    }

    @Test
    void standingOnAScale() {
        Setups setups = Setups.scaleOnly();
        setups.doubts = Doubts.USUAL;
        sameAsPlayed(setups, 0.02);
    }

    /** The controller's totals come twice a second there, and once a second here: a little more. */
    @Test
    void aControllersLine() {
        Setups setups = new Setups();
        setups.reported = Setups.line();
        setups.doubts = Doubts.USUAL;
        sameAsPlayed(setups, 0.1);
    }

    /** Half of the 2 s limit each way, evenly spread over the 90 s: 2 / 2 / 90 on either side. */
    @Test
    void aDiverterSeenAtItsEndsOnly() {
        Setups setups = new Setups();
        setups.diverter = Optional.of(Feedback.ENDS);
        setups.measureBy = RunSetup.MeasureBy.SCALE;
        double contribution =
                expected(setups.build())
                        .comparison()
                        .budget()
                        .output(Comparison.METER_ERROR)
                        .rows()
                        .stream()
                        .filter(row -> row.name().contains("split"))
                        .findFirst()
                        .orElseThrow()
                        .contribution();
        assertEquals(1.0 / 90 / Math.sqrt(3), contribution, 1e-6);
    }

    @Test
    void preWetWithFeederPulses() {
        Setups setups = new Setups();
        setups.application = Setups.preWet(false, Optional.of(new Mass(0.5)));
        CatchResult result = expected(setups.build());
        assertTrue(result.askedBasis().contains("feeder pulses"), result.askedBasis());
        assertEquals(0, result.comparison().applicationError().value(), 1e-3);
    }

    @Test
    void thermometersShowWhatIsTyped() {
        Setups setups = new Setups();
        Doubts.Temperatures usual = Doubts.Temperatures.USUAL;
        setups.doubts =
                Doubts.USUAL.with(
                        new Doubts.Temperatures(
                                Optional.empty(),
                                Optional.of(new Temperature(4)),
                                Optional.empty(),
                                usual.halfWidthKelvin(),
                                usual.expansionPerKelvin(),
                                new Doubts.Sensors(
                                        EnumSet.allOf(TemperaturePlace.class),
                                        0.5,
                                        10 * Setups.SECOND)));
        List<String> notes = expected(setups.build()).notes();
        assertTrue(notes.stream().anyMatch(note -> note.contains("4.0")), notes.toString());
    }

    @Test
    void nothingIsWrongWithTheTruck() {
        CatchResult result = expected(new Setups().build());
        assertEquals(0, result.comparison().meterError().value(), 1e-6);
        assertEquals(0, result.disagreement().orElseThrow().value(), 1e-4);
    }

    /** The lowest and the highest certified flow are within; half of the lowest is not. */
    @Test
    void theEndsOfTheCertifiedRange() {
        Setups setups = new Setups();
        setups.referenceLowest = 4.9999;
        assertInstanceOf(Outcome.Measured.class, ExpectedCatch.of(setups.build()));
        setups.referenceLowest = 1;
        setups.referenceHighest = 5.0001;
        assertInstanceOf(Outcome.Measured.class, ExpectedCatch.of(setups.build()));
        setups.referenceLowest = 10;
        setups.referenceHighest = 30;
        Outcome outcome = ExpectedCatch.of(setups.build());
        assertInstanceOf(Outcome.Refused.class, outcome);
        assertTrue(outcome.reason().contains("certified 10 US gal/min to 30"), outcome.reason());
    }

    /** 1000 pulses for a US gallon at 6 gal/min are 100 a second. */
    @Test
    void pulsesOfAFlow() {
        FlowRate six = FlowRate.perMinute(6, VolumeUnit.US_GALLON);
        double rate =
                ExpectedCatch.pulsesPerSecond(
                        new Setups().build().reference().orElseThrow().curve(), six);
        assertEquals(100, rate, 1e-6);
    }
}
