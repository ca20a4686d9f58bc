package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.LiveView.Left;
import catchbay.signal.PulseLine;
import catchbay.signal.TemperaturePlace;

import org.junit.jupiter.api.Test;

import java.util.Optional;
import java.util.Set;

/** What is shown of whole runs, at one moment or another. */
final class LiveViewTest {

    private static final long SECOND = Setups.SECOND;

    private final Setups setups = new Setups();

    /** As whoever shows it would see it: since when a state has been, the looker keeps. */
    private static LiveView view(Rehearsal bay, long sinceNanos) {
        return LiveView.of(bay.state, bay.now(), 0, sinceNanos);
    }

    private static double gallons(Optional<Volume> volume) {
        return volume.orElseThrow().usGallons();
    }

    /** 10 s of purge, 90 of catch, 10 of drip and 20 of drain are set in seconds. */
    @Test
    void whatIsSetInSecondsIsCountedDown() {
        Rehearsal bay = new Rehearsal(setups).until("confirming");
        LiveView confirming = view(bay, bay.now());
        assertEquals("confirming", confirming.state());
        assertEquals(130 * SECOND, confirming.leastNanos());
        assertEquals(Optional.of(new Left(300 * SECOND, true)), confirming.left());
        assertTrue(confirming.awaitsPerson());
        bay.until("purging");
        long purging = bay.now();
        bay.run(4);
        LiveView purged = view(bay, purging);
        assertEquals(6, purged.left().orElseThrow().nanos() / 1e9, 0.05);
        assertFalse(purged.left().orElseThrow().atMost());
        assertEquals(126, purged.leastNanos() / 1e9, 0.05);
        assertEquals(4, purged.stateNanos() / 1e9, 0.05);
        assertEquals(bay.now(), purged.runNanos());
        assertFalse(purged.awaitsPerson());
        assertEquals(Optional.empty(), purged.measured(), "before the window nothing is measured");
        assertEquals(Optional.empty(), purged.reported());
        bay.until("settling");
        LiveView settling = view(bay, bay.now());
        assertEquals(Optional.of(new Left(60 * SECOND, true)), settling.left());
        assertEquals(120 * SECOND, settling.leastNanos());
        bay.until("dripping");
        assertEquals(30, view(bay, bay.now()).leastNanos() / 1e9, 0.05);
        bay.until("draining");
        assertEquals(20, view(bay, bay.now()).leastNanos() / 1e9, 0.05);
        bay.until("ended");
        assertEquals(0, view(bay, bay.now()).leastNanos());
    }

    /** 5 US gal/min for 48 s are 4 US gal; the meters agree, 1180 kg/m3 fill the tank. */
    @Test
    void flowAndBothTotalsGrow() {
        Rehearsal bay = new Rehearsal(setups).until("catching");
        long opened = bay.now();
        bay.run(48);
        LiveView view = view(bay, opened);
        LiveView.Flow flow = view.flow().orElseThrow();
        assertEquals(5, flow.rate().perMinute(VolumeUnit.US_GALLON), 0.01);
        assertEquals(PulseLine.REFERENCE, flow.by());
        assertTrue(flow.certified());
        assertEquals(4, gallons(view.measured()), 0.02);
        assertEquals(4, gallons(view.reported()), 0.02);
        double density = setups.build().liquid().density().kilogramsPerCubicMetre() / 1000;
        double kilograms = 20 + bay.caughtLitres() * density;
        assertEquals(kilograms, view.tank().orElseThrow().kilograms(), 0.2);
        assertEquals(kilograms / 500, view.scaleShare().orElseThrow().value(), 1e-3);
        assertEquals(42, view.left().orElseThrow().nanos() / 1e9, 0.1);
    }

    /** 40 L of room with 10 in it: emptied first, and then 4 US gal, 15.14 L, on top of nothing. */
    @Test
    void aSweepIsConfirmedAndKnowsHowFullTheTankIs() {
        setups.part =
                Optional.of(
                        new Part(
                                "S-1",
                                2,
                                "M. Example",
                                Optional.empty(),
                                Optional.empty(),
                                20 * SECOND,
                                Optional.of(new Volume(40)),
                                new Volume(10),
                                Optional.empty()));
        Rehearsal bay = new Rehearsal(setups);
        LiveView confirming = view(bay.until("confirming"), 0);
        assertFalse(confirming.awaitsPerson(), "all of it was confirmed before");
        assertEquals(Optional.empty(), confirming.left());
        bay.heldLitres = 10;
        assertEquals(Optional.of(new Ratio(0.25)), view(bay.until("emptying"), 0).filled());
        assertEquals(Optional.of(new Ratio(0)), view(bay.until("purging"), 0).filled());
        LiveView caught = view(bay.until("catching").run(48), 0);
        assertEquals(15.14 / 40, caught.filled().orElseThrow().value(), 0.003);
        assertEquals(Optional.of(2), caught.part().map(Part::leg));
    }

    @Test
    void theScaleMeasuresWhereItIsTheOne() {
        setups.measureBy = RunSetup.MeasureBy.SCALE;
        setups.reported = Setups.line();
        Rehearsal bay = new Rehearsal(setups).until("catching").run(48);
        LiveView view = view(bay, 0);
        assertEquals(4, gallons(view.measured()), 0.05);
        assertEquals(4, gallons(view.reported()), 0.1, "a total comes every half second");
    }

    /** The last full slot is not the flow of now for ever. */
    @Test
    void aFlowThatStopsGoesDown() {
        Rehearsal bay = new Rehearsal(setups).until("catching").run(10);
        bay.flow(false).run(1);
        assertEquals(
                5,
                view(bay, 0).flow().orElseThrow().rate().perMinute(VolumeUnit.US_GALLON),
                0.1,
                "nobody knows yet");
        Rehearsal later = new Rehearsal(setups).until("dripping").run(9);
        LiveView view = view(later, 0);
        assertTrue(
                view.flow().orElseThrow().rate().perMinute(VolumeUnit.US_GALLON) < 0.5,
                view.toString());
        assertFalse(view.flow().orElseThrow().certified());
    }

    @Test
    void aFlowOutsideTheCertificateIsShownAsSuch() {
        setups.referenceLowest = 4.5;
        Rehearsal bay = new Rehearsal(setups).until("purging");
        bay.hertz.put(PulseLine.REFERENCE, 50.0);
        LiveView.Flow flow = view(bay.run(5), 0).flow().orElseThrow();
        assertFalse(flow.certified());
        assertEquals(3, flow.rate().perMinute(VolumeUnit.US_GALLON), 0.01);
    }

    /** Typed totals are known when they are typed; a flow by hand is nobody's but the person's. */
    @Test
    void aRunByHandAwaitsItsPerson() {
        Rehearsal bay = new Rehearsal(Setups.display()).until("catching");
        LiveView asked = view(bay, bay.now());
        assertTrue(asked.awaitsPerson());
        assertEquals(Optional.of(new Left(300 * SECOND, true)), asked.left());
        assertEquals(Optional.empty(), asked.reported());
        bay.until("stilling");
        assertTrue(view(bay, bay.now()).awaitsPerson(), "the flow is to be stopped");
        bay.until("comparing");
        LiveView compared = view(bay, bay.now());
        assertFalse(compared.awaitsPerson());
        assertEquals(gallons(compared.measured()), gallons(compared.reported()), 0.1);
    }

    /** The air of the room is not the liquid. */
    @Test
    void aThermometerInTheLiquidIsShown() {
        setups.doubts =
                Setups.NONE.with(
                        new Doubts.Temperatures(
                                Optional.empty(),
                                Optional.empty(),
                                Optional.empty(),
                                0,
                                Optional.of(0.0),
                                new Doubts.Sensors(
                                        Set.of(TemperaturePlace.ROOM, TemperaturePlace.TANK),
                                        0.5,
                                        5 * SECOND)));
        Rehearsal bay = new Rehearsal(setups);
        bay.celsius.put(TemperaturePlace.ROOM, 19.0);
        bay.celsius.put(TemperaturePlace.TANK, 7.5);
        assertEquals(Optional.empty(), view(bay, 0).liquid(), "nothing was read yet");
        bay.until("purging");
        assertEquals(Optional.of(new Temperature(7.5)), view(bay, 0).liquid());
    }
}
