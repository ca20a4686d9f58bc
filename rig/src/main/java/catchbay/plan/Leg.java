package catchbay.plan;

/**
 * One leg of a sweep: a point on its way through the flow range, or one that verifies a constant.
 *
 * @param number from 1, in the order in which they are made
 * @param point what is caught there
 * @param verifying whether the new constant is entered by then
 */
public record Leg(int number, PointForecast point, boolean verifying) {

    /** How sentences call it. */
    public String words() {
        return (verifying ? "verification at " : "")
                + Figures.flow(point.flow())
                + point.point().outlet().map(which -> " through " + which).orElse("");
    }
}
