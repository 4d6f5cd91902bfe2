package book

// subject is a body that is about a bike, an adjuster or a track: what the
// history can be filtered by.
type subject interface {
	about() (BikeID, AdjusterID, TrackID)
}

func (n BikeBody) about() (BikeID, AdjusterID, TrackID)     { return n.Bike, "", "" }
func (n AdjusterBody) about() (BikeID, AdjusterID, TrackID) { return n.Bike, n.Adjuster, "" }
func (n ChangeBody) about() (BikeID, AdjusterID, TrackID)   { return n.Bike, n.Adjuster, n.Track }
func (n CountBody) about() (BikeID, AdjusterID, TrackID)    { return n.Bike, n.Adjuster, "" }
func (n BaselineBody) about() (BikeID, AdjusterID, TrackID) { return n.Bike, "", n.Track }
func (n FactBody) about() (BikeID, AdjusterID, TrackID)     { return n.Bike, "", "" }
func (n CheckBody) about() (BikeID, AdjusterID, TrackID)    { return n.Bike, "", "" }
func (n FallBody) about() (BikeID, AdjusterID, TrackID)     { return n.Bike, "", n.Track }
func (n ServiceBody) about() (BikeID, AdjusterID, TrackID)  { return n.Bike, "", "" }
func (n PartBody) about() (BikeID, AdjusterID, TrackID)     { return n.Bike, "", "" }
func (n PhotoBody) about() (BikeID, AdjusterID, TrackID)    { return n.Bike, "", "" }
func (n MeasureBody) about() (BikeID, AdjusterID, TrackID)  { return n.Bike, "", "" }
func (n TrackBody) about() (BikeID, AdjusterID, TrackID)    { return "", "", n.Track }
func (n SessionBody) about() (BikeID, AdjusterID, TrackID)  { return n.Bike, "", n.Track }
func (n SymptomBody) about() (BikeID, AdjusterID, TrackID)  { return n.Bike, "", n.Track }
func (n RepeatBody) about() (BikeID, AdjusterID, TrackID)   { return n.Bike, "", "" }
func (n ForgetBody) about() (BikeID, AdjusterID, TrackID)   { return n.Bike, "", "" }
func (n AdviceBody) about() (BikeID, AdjusterID, TrackID)   { return n.Bike, n.Adjuster, "" }
func (n DayBody) about() (BikeID, AdjusterID, TrackID)      { return "", "", n.Track }
func (n LapsBody) about() (BikeID, AdjusterID, TrackID)     { return n.Bike, "", "" }
func (n TyresBody) about() (BikeID, AdjusterID, TrackID)    { return n.Bike, "", "" }
func (n IntervalBody) about() (BikeID, AdjusterID, TrackID) { return n.Bike, "", "" }
func (n TrialBody) about() (BikeID, AdjusterID, TrackID)    { return n.Bike, n.Adjuster, n.Track }
func (n RunBody) about() (BikeID, AdjusterID, TrackID)      { return n.Bike, "", "" }
func (n DrawBody) about() (BikeID, AdjusterID, TrackID)     { return n.Bike, "", "" }
func (n RevealBody) about() (BikeID, AdjusterID, TrackID)   { return n.Bike, "", "" }
func (n RatingBody) about() (BikeID, AdjusterID, TrackID)   { return n.Bike, "", "" }
