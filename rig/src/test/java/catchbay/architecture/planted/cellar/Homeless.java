package catchbay.architecture.planted.cellar;

/** Planted: a class in no room of the house. */
final class Homeless {}
