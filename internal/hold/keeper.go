package hold

import "sync"

// Keeper holds files for one program, which may open a file that it has open already: that is no other window. The zero value with a folder is ready.
type Keeper struct {
	Folder Folder

	sharing sync.Mutex
	have    map[string]*counted // by the name of the lock
}

// counted is a hold with how often it was asked for.
type counted struct {
	hold  *Hold
	times int
}

// Of holds a file until release is called, as often as it was asked for. Its errors are those of Folder.Of.
func (k *Keeper) Of(path string) (release func(), err error) {
	name := nameFor(path) // before anything is locked, for it may take long, and other files are not to wait for it
	k.sharing.Lock()
	defer k.sharing.Unlock()
	c := k.have[name]
	if c == nil {
		h, err := k.Folder.by(name)
		if err != nil {
			return nil, err
		}
		if k.have == nil {
			k.have = map[string]*counted{}
		}
		c = &counted{hold: h}
		k.have[name] = c
	}
	c.times++
	var once sync.Once
	return func() { once.Do(func() { k.release(name, c) }) }, nil
}

func (k *Keeper) release(name string, c *counted) {
	k.sharing.Lock()
	defer k.sharing.Unlock()
	if c.times--; c.times == 0 {
		c.hold.Release()
		delete(k.have, name)
	}
}
