package catchbay.metrology;

import catchbay.quantity.FlowRate;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Between which flows the pulses of a truck's meter stop.
 *
 * @param silentUpTo the highest measured flow at which the controller reported nothing
 * @param countedFrom the lowest measured flow at which it reported something
 */
public record CutOff(Optional<FlowRate> silentUpTo, Optional<FlowRate> countedFrom) {

    /** As far as these catches tell. */
    public static CutOff of(List<CatchEvidence> catches) {
        return new CutOff(
                catches.stream()
                        .filter(CatchEvidence::silent)
                        .map(CatchEvidence::flow)
                        .max(Comparator.naturalOrder()),
                catches.stream()
                        .filter(evidence -> !evidence.silent())
                        .map(CatchEvidence::flow)
                        .min(Comparator.naturalOrder()));
    }
}
